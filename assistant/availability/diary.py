"""What is already taken: crew minutes, building minutes and jobs of each studio day, and the blocks of time."""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from math import ceil
from zoneinfo import ZoneInfo

from assistant.availability.bookings import Booking
from assistant.availability.needs import Needs
from assistant.availability.rules import CalendarRules


@dataclass(frozen=True)
class Block:
    """A stretch of time, in UTC, in which a crew is taken up; ``zip`` tells where."""

    start: datetime
    end: datetime
    zip: str = ""


class Stretches:
    """Blocks of time, found by the days they touch, so that a full calendar is as quick to ask as an empty one."""

    def __init__(self) -> None:
        self._by_day: defaultdict[date, list[Block]] = defaultdict(list)

    def add(self, block: Block) -> None:
        """Enter a block under every UTC day it touches."""
        for day in _utc_days(block.start, block.end):
            self._by_day[day].append(block)

    def near(self, start: datetime, end: datetime) -> Iterable[Block]:
        """Return each block that touches a day between the two instants, once; two that are alike stay two."""
        return {id(block): block for day in _utc_days(start, end) for block in self._by_day.get(day, ())}.values()


@dataclass
class Diary:
    """The load of each studio day: crew minutes, building minutes by the day they fall on, jobs, things taken."""

    crew: Counter[date] = field(default_factory=Counter)
    build: Counter[date] = field(default_factory=Counter)
    jobs: Counter[date] = field(default_factory=Counter)
    holds: Counter[date] = field(default_factory=Counter)
    private: Counter[date] = field(default_factory=Counter)
    taken: Counter[tuple[str, date]] = field(default_factory=Counter)
    blocks: Stretches = field(default_factory=lambda: Stretches())
    private_blocks: Stretches = field(default_factory=lambda: Stretches())
    strikes: Stretches = field(default_factory=lambda: Stretches())


def _utc_days(start: datetime, end: datetime) -> Iterator[date]:
    first = start.astimezone(UTC).date()
    for count in range((end.astimezone(UTC).date() - first).days + 1):
        yield first + timedelta(days=count)


def midnight(day: date, zone: ZoneInfo) -> datetime:
    """Return the instant, in UTC, at which ``day`` begins in ``zone``."""
    return datetime.combine(day, time(), zone).astimezone(UTC)


def days_of(start: datetime, end: datetime, zone: ZoneInfo) -> Iterator[tuple[date, int]]:
    """Yield each studio day a stretch touches with its elapsed minutes there, rounded up, also at clock changes."""
    day = start.astimezone(zone).date()
    while True:
        begin, finish = max(start, midnight(day, zone)), min(end, midnight(day + timedelta(days=1), zone))
        if finish > begin or (start == end and finish >= begin):
            yield day, ceil((finish - begin).total_seconds() / 60)
        day += timedelta(days=1)
        if midnight(day, zone) >= end:
            return


def diary_of(bookings: Iterable[Booking], rules: CalendarRules, today: date) -> Diary:
    """Return the diary of all bookings and the studio's private times; a hold past its day no longer counts."""
    diary, default = Diary(), rules.file.default_job.needs
    for booking in bookings:
        if booking.kind == "block":
            _enter_private(diary, booking.start, booking.end, rules)
        elif not (booking.kind == "hold" and booking.expires and booking.expires < today):
            _enter_job(diary, booking, rules, default)
    for private in rules.file.private:
        start, end = (_in_utc(moment, rules.zone) for moment in (private.start, private.end))
        _enter_private(diary, start, end, rules)
    return diary


def _in_utc(moment: datetime, zone: ZoneInfo) -> datetime:
    return (moment if moment.tzinfo else moment.replace(tzinfo=zone)).astimezone(UTC)


def _enter_job(diary: Diary, booking: Booking, rules: CalendarRules, default: Needs) -> None:
    first = booking.start.astimezone(rules.zone).date()
    diary.jobs[first] += 1
    diary.holds[first] += booking.kind == "hold"
    built = booking.build_on or first - timedelta(days=1)
    diary.build[built] += default.build if booking.build is None else booking.build
    _enter_things(diary, first, default.takes if booking.takes is None else booking.takes, rules)
    for day, crew in _crew_by_day(booking, rules, default.event_day):
        diary.crew[day] += crew
    if booking.timed and booking.end > booking.start:
        diary.blocks.add(Block(booking.start, booking.end, booking.zip))
    if booking.strike is not None:
        length = timedelta(minutes=rules.file.take_down.usual_minutes)
        diary.strikes.add(Block(booking.strike, booking.strike + length, booking.zip))


def _enter_things(diary: Diary, first: date, takes: Mapping[str, int], rules: CalendarRules) -> None:
    """A thing is away from the event day on, for as many days as its rule says."""
    for name, count in takes.items():
        resource = rules.file.resources.get(name)
        for after in range(resource.away_days if resource else 1):
            diary.taken[name, first + timedelta(days=after)] += count


def _crew_by_day(booking: Booking, rules: CalendarRules, default: int) -> Iterator[tuple[date, int]]:
    """Spread a booking's crew minutes over its days in proportion to the time on each, rounded up.

    Unknown crew hours count at the default job's, or at the length of the booking if that is longer; a booking
    without times is one default job on its first day.
    """
    if not booking.timed:
        yield booking.start.astimezone(rules.zone).date(), default if booking.crew is None else booking.crew
        return
    first, last = (moment.astimezone(rules.zone).date() for moment in (booking.start, booking.end))
    if first == last:  # by far the usual case, and quick
        length = ceil((booking.end - booking.start).total_seconds() / 60)
        yield first, max(default, length) if booking.crew is None else booking.crew
        return
    parts = list(days_of(booking.start, booking.end, rules.zone))
    length = sum(minutes for _, minutes in parts)
    total = max(default, length) if booking.crew is None else booking.crew
    for day, minutes in parts:
        yield day, ceil(total * minutes / length) if length else total


def _enter_private(diary: Diary, start: datetime, end: datetime, rules: CalendarRules) -> None:
    """Private time takes its share of each working day."""
    diary.private_blocks.add(Block(start, end))
    for day, _ in days_of(start, end, rules.zone):
        opens, closes = working_day(day, rules)
        taken = (min(end, closes) - max(start, opens)).total_seconds()
        diary.private[day] += max(0, ceil(taken / 60))


def working_day(day: date, rules: CalendarRules) -> tuple[datetime, datetime]:
    """Return the instants, in UTC, between which the studio works on ``day``."""
    opens = datetime.combine(day, rules.file.working_from, rules.zone).astimezone(UTC)
    return opens, datetime.combine(day, rules.file.working_to, rules.zone).astimezone(UTC)
