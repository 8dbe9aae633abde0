"""Is there a time of day for the set-up: before the guests, and with the way between two jobs left free."""

from datetime import UTC, date, datetime, timedelta

from assistant.availability.diary import Block, Diary, working_day
from assistant.availability.job import Job
from assistant.availability.rules import CalendarRules

STEP = timedelta(minutes=15)
Slot = tuple[datetime, datetime]


def slots(day: date, job: Job) -> list[Slot]:
    """Return the times, in UTC, in which the set-up may stand, the usual one first.

    With a start time it ends so long before the guests as the rules say, or up to the access limit earlier;
    without one it may stand anywhere in the working day. Where it is known when the place can be entered, that is
    the limit.
    """
    site = timedelta(minutes=job.needs.on_site)
    opens, closes = working_day(day, job.rules)
    guests, access = guests_at(day, job), access_at(day, job)
    latest = closes if guests is None else guests - job.rules.before_guests(job.occasion)
    if guests is None or job.any_hour:
        earliest = opens + site
    else:
        earliest = guests - timedelta(minutes=int(job.rules.file.access_hours_before * 60))
    if access is not None:
        earliest = max(opens, access + timedelta(minutes=job.rules.file.window.unload_minutes)) + site
    return [(end - site, end) for end in _back_from(latest, earliest)]


def guests_at(day: date, job: Job) -> datetime | None:
    """Return when the guests arrive on ``day``, in UTC, or None when that is not known."""
    return None if job.start is None else datetime.combine(day, job.start, job.rules.zone).astimezone(UTC)


def access_at(day: date, job: Job) -> datetime | None:
    """Return from when the place can be entered, in UTC, or None when that is not known."""
    return None if job.access_from is None else datetime.combine(day, job.access_from, job.rules.zone).astimezone(UTC)


def _back_from(latest: datetime, earliest: datetime) -> list[datetime]:
    """Return the ends of set-ups from the latest on backwards; the latest stands even where it is too early."""
    return [latest - n * STEP for n in range(max(0, (latest - earliest) // STEP) + 1)]


def is_free(slot: Slot, diary: Diary, rules: CalendarRules, zip_code: str, *, with_buffer: bool) -> bool:
    """Tell whether a crew can be at ``slot``, the way from and to every other job kept free."""
    if any(meets(slot, block, 0) for block in diary.private_blocks.near(*slot)):
        return False
    near, widest = 0, timedelta(minutes=rules.file.between_jobs.widest)
    for block in diary.blocks.near(slot[0] - widest, slot[1] + widest):
        same = bool(zip_code) and block.zip == zip_code
        gap = rules.file.between_jobs.minutes(same_zip=same, with_buffer=with_buffer)
        near += meets(slot, block, gap)
    return near < rules.file.jobs_at_once


def meets(slot: Slot, block: Block, gap: int) -> bool:
    """Tell whether a stretch comes closer to a block than ``gap`` minutes."""
    room = timedelta(minutes=gap)
    return slot[0] < block.end + room and block.start < slot[1] + room
