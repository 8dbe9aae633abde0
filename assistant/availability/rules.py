"""The shape of rules/calendar.yaml: hours of a day, closed days, travel between jobs, margins."""

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from math import ceil
from typing import ClassVar, Literal
from zoneinfo import ZoneInfo

from assistant.availability.needs import Needs
from assistant.availability.rules_resources import (
    DayBefore,
    PickUp,
    Resource,
    ShortHold,
    Take,
    TakeDown,
    Window,
    at_least,
)

Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
WEEKDAYS: tuple[Weekday, ...] = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


@dataclass(frozen=True)
class ClosedDays:
    """Days on which nobody works, both ends included."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    since: date
    until: date
    why: str = "closed"


@dataclass(frozen=True)
class PrivateTime:
    """Hours that are not for work; without an offset they are the studio's."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    start: datetime
    end: datetime
    why: str = "private"

    def __post_init__(self) -> None:
        if (self.start.tzinfo is None) != (self.end.tzinfo is None) or self.end <= self.start:
            raise ValueError(f"private time ends {self.end}, not after its start: give start and end alike, end later")


@dataclass(frozen=True)
class BetweenJobs:
    """What lies between the end of one set-up and the start of the next."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    pack_minutes: int
    access_minutes: int
    drive_minutes: int
    same_zip_drive_minutes: int
    drive_factor: Decimal

    def __post_init__(self) -> None:
        at_least(0, pack_minutes=self.pack_minutes, access_minutes=self.access_minutes)
        at_least(0, drive_minutes=self.drive_minutes, same_zip_drive_minutes=self.same_zip_drive_minutes)
        at_least(1, drive_factor=self.drive_factor)

    @property
    def widest(self) -> int:
        """The longest gap that can be asked for, in minutes."""
        return max(self.minutes(same_zip=False, with_buffer=True), self.minutes(same_zip=True, with_buffer=True))

    def minutes(self, *, same_zip: bool, with_buffer: bool) -> int:
        """Return the gap needed between two set-ups: the bare drive, or with packing, access and slow roads."""
        drive = self.same_zip_drive_minutes if same_zip else self.drive_minutes
        if not with_buffer:
            return drive
        return self.pack_minutes + self.access_minutes + ceil(drive * self.drive_factor)


@dataclass(frozen=True)
class Margins:
    """Hours left after the job below which a day is called tight."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    event_day: Decimal
    build_day: Decimal

    def __post_init__(self) -> None:
        at_least(0, event_day=self.event_day, build_day=self.build_day)


@dataclass(frozen=True)
class DefaultJob:
    """Hours that count when a job's own are not known."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    build_hours: Decimal
    load_hours: Decimal
    travel_hours: Decimal
    on_site_hours: Decimal
    buffer_hours: Decimal
    takes: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        at_least(0, build_hours=self.build_hours, load_hours=self.load_hours, travel_hours=self.travel_hours)
        at_least(0, on_site_hours=self.on_site_hours, buffer_hours=self.buffer_hours, **self.takes)

    @property
    def needs(self) -> Needs:
        """What such a job takes of the two days."""
        return Needs.of(
            build=self.build_hours,
            event_day=self.load_hours + 2 * self.travel_hours + self.on_site_hours + self.buffer_hours,
            travel=self.travel_hours,
            on_site=self.on_site_hours,
            takes=self.takes,
        )


@dataclass(frozen=True)
class AlternateRules:
    """How many other ways are offered, how far away other days may lie, and how much smaller a piece may get."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    most: int
    within_days: int
    other_days: int
    smaller_shares: list[Decimal]

    def __post_init__(self) -> None:
        if not 0 <= self.most <= 3:
            raise ValueError(f"most is {self.most}: give 0 to 3, more options help nobody")
        if not 0 <= self.within_days <= 366:
            raise ValueError(f"within_days is {self.within_days}: give 0 to 366")
        if not 0 <= self.other_days <= 3:
            raise ValueError(f"other_days is {self.other_days}: give 0 to 3")
        if any(not 0 < share < 1 for share in self.smaller_shares):
            raise ValueError(f"smaller_shares are {self.smaller_shares}: give shares between 0 and 1, such as 0.75")


@dataclass(frozen=True)
class CalendarFile:
    """rules/calendar.yaml as it stands in the file."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    crew: int
    jobs_at_once: int
    event_day_hours: Decimal
    build_day_hours: Decimal
    further_person_adds_hours: Decimal
    build_up_to_days_before: int
    jobs_a_day: int
    lead_days: int
    horizon_days: int
    closed_weekdays: list[Weekday]
    closed: list[dict[str, str]]
    private: list[PrivateTime]
    working_from: time
    working_to: time
    before_guests_minutes: int
    access_hours_before: Decimal
    between_jobs: BetweenJobs
    tight_below_hours: Margins
    default_job: DefaultJob
    alternates: AlternateRules
    plan_factor: Decimal
    short_hold: ShortHold
    resources: dict[str, Resource]
    takes: dict[str, dict[str, Take]]
    window: Window
    take_down: TakeDown
    pick_up: PickUp
    day_before: DayBefore

    def __post_init__(self) -> None:
        at_least(1, plan_factor=self.plan_factor)
        at_least(1, crew=self.crew, jobs_at_once=self.jobs_at_once, jobs_a_day=self.jobs_a_day)
        at_least(0, event_day_hours=self.event_day_hours, build_day_hours=self.build_day_hours)
        at_least(0, further_person_adds_hours=self.further_person_adds_hours, lead_days=self.lead_days)
        at_least(1, horizon_days=self.horizon_days, build_up_to_days_before=self.build_up_to_days_before)
        at_least(0, before_guests_minutes=self.before_guests_minutes, access_hours_before=self.access_hours_before)
        if self.event_day_hours > 24 or self.build_day_hours > 24:
            raise ValueError("a day has more than 24 hours here: give event_day_hours and build_day_hours up to 24")
        if self.working_to <= self.working_from:
            raise ValueError(f"working_to is {self.working_to}, not after working_from: give a later hour")
        for entry in self.closed:
            closed_days(entry)
        _check_names(self)


def _check_names(file: CalendarFile) -> None:
    """Every resource that a piece takes must be one the studio has figures for."""
    named = {piece: list(takes) for piece, takes in file.takes.items()}
    for piece, names in {"default_job": list(file.default_job.takes), **named}.items():
        for name in names:
            if name not in file.resources:
                known = ", ".join(file.resources)
                raise ValueError(f"'{piece}' takes '{name}', which is no resource: give one of {known}, or add it")


def closed_days(entry: dict[str, str]) -> ClosedDays:
    """Read one entry of ``closed``: from, to (the same day if left out) and why."""
    unknown = set(entry) - {"from", "to", "why"}
    if unknown or "from" not in entry:
        raise ValueError(f"closed days {entry} are not readable: write from, to and why")
    try:
        since, until = date.fromisoformat(entry["from"]), date.fromisoformat(entry.get("to", entry["from"]))
    except ValueError as fault:
        raise ValueError(f"closed days {entry} hold no real day ({fault}): write 2027-12-24") from None
    if until < since:
        raise ValueError(f"closed days end {until}, before {since}: give the later day as 'to'")
    return ClosedDays(since, until, entry.get("why", "closed"))


@dataclass(frozen=True)
class CalendarRules:
    """The calendar's rules in the studio's zone."""

    file: CalendarFile
    zone: ZoneInfo

    @property
    def event_minutes(self) -> int:
        """All crew minutes of an event day."""
        return int(self.file.event_day_hours * 60) * self.file.crew

    @property
    def build_minutes(self) -> int:
        """All crew minutes for building on one day."""
        return int((self.file.build_day_hours + self.file.further_person_adds_hours * (self.file.crew - 1)) * 60)

    def before_guests(self, occasion: str) -> timedelta:
        """Return how long before the guests the set-up has to stand."""
        by_occasion = self.file.window.before_guests_minutes_by_occasion
        return timedelta(minutes=by_occasion.get(occasion, self.file.before_guests_minutes))

    def hold_hours(self, usual: int, days_ahead: int) -> int:
        """Return how many hours a day is held that lies so many days ahead."""
        short = self.file.short_hold
        return min(usual, short.hours) if days_ahead < short.event_within_days else usual

    def closed_why(self, day: date) -> str:
        """Return why the studio is closed on ``day``, or an empty text."""
        if WEEKDAYS[day.weekday()] in self.file.closed_weekdays:
            return f"closed on {WEEKDAYS[day.weekday()].capitalize()}s"
        for entry in map(closed_days, self.file.closed):
            if entry.since <= day <= entry.until:
                return entry.why
        return ""
