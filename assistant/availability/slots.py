"""Is there a time of day for the set-up: before the guests, and with the way between two jobs left free."""

from datetime import UTC, date, datetime, time, timedelta

from assistant.availability.diary import Block, Diary, working_day
from assistant.availability.needs import Needs
from assistant.availability.rules import CalendarRules

STEP = timedelta(minutes=15)
Slot = tuple[datetime, datetime]


def slots(day: date, start: time | None, needs: Needs, rules: CalendarRules) -> list[Slot]:
    """Return the times, in UTC, in which the set-up may stand, the usual one first.

    With a start time it ends so long before the guests as the rules say, or up to the access limit earlier;
    without one it may stand anywhere in the working day.
    """
    site = timedelta(minutes=needs.on_site)
    if start is None:
        opens, closes = working_day(day, rules)
        latest, earliest = closes, opens + site
    else:
        guests = datetime.combine(day, start, rules.zone).astimezone(UTC)
        latest = guests - timedelta(minutes=rules.file.before_guests_minutes)
        earliest = guests - timedelta(minutes=int(rules.file.access_hours_before * 60))
    ends = [latest - n * STEP for n in range(max(0, (latest - earliest) // STEP) + 1)]
    return [(end - site, end) for end in ends]


def is_free(slot: Slot, diary: Diary, rules: CalendarRules, zip_code: str, *, with_buffer: bool) -> bool:
    """Tell whether a crew can be at ``slot``, the way from and to every other job kept free."""
    if any(_meets(slot, block, 0) for block in diary.private_blocks):
        return False
    near = 0
    for block in diary.blocks:
        same = bool(zip_code) and block.zip == zip_code
        gap = rules.file.between_jobs.minutes(same_zip=same, with_buffer=with_buffer)
        near += _meets(slot, block, gap)
    return near < rules.file.jobs_at_once


def _meets(slot: Slot, block: Block, gap: int) -> bool:
    room = timedelta(minutes=gap)
    return slot[0] < block.end + room and block.start < slot[1] + room
