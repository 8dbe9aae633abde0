"""The shapes of calendar.yaml that are not hours: things owned, what pieces take, pick-up, early set-up, holds."""

from dataclasses import dataclass, field
from decimal import Decimal
from typing import ClassVar, Literal


def at_least(low: float, **values: Decimal | int) -> None:
    """Raise ValueError naming the first value below ``low``."""
    for name, value in values.items():
        if value < low:
            raise ValueError(f"{name} is {value}, below {low:g}: give {low:g} or more")


@dataclass(frozen=True)
class Resource:
    """Something the studio owns so many of; ``counts`` tells whether all jobs of a day share it or each load is new."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    label: str
    have: int
    counts: Literal["day", "job"] = "day"
    away_days: int = 1

    def __post_init__(self) -> None:
        at_least(0, have=self.have)
        if not 1 <= self.away_days <= 7:
            raise ValueError(f"away_days is {self.away_days}: give 1 (back the same night) to 7")


@dataclass(frozen=True)
class Take:
    """What one piece takes of a resource: so many each, by the foot, or ``unknown`` when no size is known."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    each: Decimal = Decimal(0)
    per_length_ft: Decimal = Decimal(0)
    per_width_ft: Decimal = Decimal(0)
    per_height_ft: Decimal = Decimal(0)
    unknown: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        at_least(0, each=self.each, per_length_ft=self.per_length_ft, per_width_ft=self.per_width_ft)
        at_least(0, per_height_ft=self.per_height_ft, unknown=self.unknown)


@dataclass(frozen=True)
class ShortHold:
    """How long a day near at hand is held."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    hours: int
    event_within_days: int

    def __post_init__(self) -> None:
        at_least(1, hours=self.hours)
        at_least(0, event_within_days=self.event_within_days)


@dataclass(frozen=True)
class Window:
    """What the place's own hours must leave room for, and below how many hours the designer is told."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    unload_minutes: int
    tidy_minutes: int
    flag_below_hours: Decimal
    before_guests_minutes_by_occasion: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        at_least(0, unload_minutes=self.unload_minutes, tidy_minutes=self.tidy_minutes)
        at_least(0, flag_below_hours=self.flag_below_hours, **self.before_guests_minutes_by_occasion)


@dataclass(frozen=True)
class TakeDown:
    """When a take-down falls, and the night's rest before the next set-up."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    event_hours: Decimal
    usual_minutes: int
    rest_hours: Decimal

    def __post_init__(self) -> None:
        at_least(0, event_hours=self.event_hours, usual_minutes=self.usual_minutes, rest_hours=self.rest_hours)


@dataclass(frozen=True)
class PickUp:
    """Which pieces a client can fetch, up to what size, and what handing them out takes."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    kinds: list[str]
    at_most_ft: Decimal
    minutes: int

    def __post_init__(self) -> None:
        at_least(0, at_most_ft=self.at_most_ft, minutes=self.minutes)


@dataclass(frozen=True)
class DayBefore:
    """Which pieces keep from one day to the next, and in which settings."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    kinds: list[str]
    settings: list[str]
