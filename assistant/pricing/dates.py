"""What a date adds to the price: little notice, and days that every studio is asked for."""

from dataclasses import dataclass
from datetime import date, time, timedelta
from decimal import Decimal
from typing import Annotated, Literal

from annotated_types import Ge, Le

STRICT = {"extra": "forbid"}
WEEKDAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
ZERO = Decimal(0)


@dataclass(frozen=True)
class Rush:
    """The surcharge for an event fewer than so many days off."""

    __pydantic_config__ = STRICT
    under_days: Annotated[int, Ge(1)]
    share: Annotated[Decimal, Ge(0), Le(1)]
    least: Annotated[Decimal, Ge(0)]


@dataclass(frozen=True)
class Peak:
    """Days that cost more: a yearly stretch (``first`` to ``last``, MM-DD), or days up to an nth weekday of a month."""

    __pydantic_config__ = STRICT
    name: str
    share: Annotated[Decimal, Ge(0), Le(1)]
    first: str | None = None
    last: str | None = None
    weekdays: list[Weekday] | None = None
    month: Annotated[int, Ge(1), Le(12)] | None = None
    nth: Annotated[int, Ge(1), Le(5)] | None = None
    weekday: Weekday | None = None
    days_before: Annotated[int, Ge(0), Le(30)] = 0

    def __post_init__(self) -> None:
        fixed = self.first is not None and self.last is not None
        moving = self.month is not None and self.nth is not None and self.weekday is not None
        if fixed == moving:
            raise ValueError(f"{self.name} names no days: give first and last (MM-DD), or month, nth and weekday")
        for text in (self.first, self.last):
            if text is not None:
                _month_day(text)
        if fixed and str(self.first) > str(self.last):
            raise ValueError(f"{self.name}: first is after last: write two rows for a stretch over New Year")

    def holds(self, day: date) -> bool:
        """Tell whether ``day`` is one of these days."""
        if self.first is not None and self.last is not None:
            within = self.first <= f"{day.month:02}-{day.day:02}" <= self.last
            return within and (self.weekdays is None or WEEKDAYS[day.weekday()] in self.weekdays)
        on = _nth_weekday(day.year, self.month or 1, WEEKDAYS.index(self.weekday or "sunday"), self.nth or 1)
        return on - timedelta(days=self.days_before) <= day <= on


def minutes_of_night(clock: str) -> int:
    """Return the minutes since midnight of a time (HH:MM); before six in the morning it belongs to the day before.

    Raises ValueError for anything but a time of day.
    """
    try:
        at = time.fromisoformat(clock)
    except ValueError:
        raise ValueError(f"'{clock}' is no time of day: write it like 21:30") from None
    return at.hour * 60 + at.minute + (24 * 60 if at.hour < 6 else 0)


def _month_day(text: str) -> None:
    try:
        date.fromisoformat(f"2028-{text}")  # a leap year, so that 02-29 passes
    except ValueError:
        raise ValueError(f"'{text}' is no day of a year: write it like 05-15") from None


def _nth_weekday(year: int, month: int, weekday: int, nth: int) -> date:
    first = date(year, month, 1)
    return first + timedelta(days=(weekday - first.weekday()) % 7 + 7 * (nth - 1))


@dataclass(frozen=True)
class DateRates:
    """Rush and peak surcharges, and how close an event is the designer's alone to promise."""

    __pydantic_config__ = STRICT
    rush: list[Rush]
    peaks: list[Peak]
    designer_alone_under_hours: Annotated[int, Ge(0)]


@dataclass(frozen=True)
class DatePrice:
    """What one date adds: shares of the price, the least a rush costs, and the rows that say so (-1: none)."""

    peak: Decimal = ZERO
    rush: Decimal = ZERO
    rush_least: Decimal = ZERO
    peak_row: int = -1
    rush_row: int = -1

    def of(self, price: Decimal) -> tuple[Decimal, Decimal]:
        """Return (peak, rush) surcharges on ``price``; the rush is counted on the date's price."""
        peak = price * self.peak
        rush = max((price + peak) * self.rush, self.rush_least)
        return peak, rush


def date_price(day: date, today: date, rates: DateRates) -> DatePrice:
    """Return what ``day`` adds when asked on ``today``; of several rows that hold the dearest counts."""
    days = (day - today).days
    rushes = [(row.share, row.least, i) for i, row in enumerate(rates.rush) if days < row.under_days]
    peaks = [(row.share, -i) for i, row in enumerate(rates.peaks) if row.holds(day)]
    rush, least, rush_row = max(rushes, default=(ZERO, ZERO, -1))
    peak, minus_row = max(peaks, default=(ZERO, 1))
    return DatePrice(peak, rush, least, -minus_row, rush_row)
