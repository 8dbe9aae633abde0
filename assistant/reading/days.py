"""What words say of a day, and the days that fit: a weekday is a condition, a year that was not said is the next one.

Every phrase class has ``resolve(frame) -> Resolved``; none invents a part that was not said.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Protocol

STATED, INFERRED, UNCLEAR, IMPOSSIBLE, PAST = "stated", "inferred", "unclear", "impossible", "past"
MOST_OPTIONS = 7
RECENT_DAYS = 30
FAR_YEARS = 4
SURE_WITHIN_DAYS = 70


HolidayDays = Callable[[str, date, int | None], tuple[date, ...]]


def no_holidays(_name: str, _today: date, _year: int | None) -> tuple[date, ...]:
    """Know no holiday."""
    return ()


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a phrase stands: today, the locale's day-month order, its holidays, and the month spoken of, if any."""

    today: date
    day_first: bool = False
    order_sure: bool = True
    month: tuple[int, int] | None = None
    holidays: HolidayDays = no_holidays


@dataclass(frozen=True, slots=True)
class Resolved:
    """The days that fit a phrase; ``status`` past means that the only one lies behind today."""

    status: str
    days: tuple[date, ...]
    why: str = ""

    @property
    def only(self) -> date | None:
        """The day, when exactly one fits."""
        return self.days[0] if len(self.days) == 1 else None


class DayPhrase(Protocol):
    """Words that say something of a day."""

    def resolve(self, frame: Frame) -> Resolved:
        """Return the days that fit."""


def make_date(year: int, month: int, day: int) -> date | None:
    """Return the date, or None when there is no such day."""
    try:
        return date(year, month, day)
    except (ValueError, OverflowError):
        return None


def shift(day: date, days: int) -> date:
    """Return the day so many days later, held inside the calendar's ends."""
    return date.fromordinal(min(max(day.toordinal() + days, 1), date.max.toordinal()))


def days_between(first: date, last: date) -> tuple[date, ...]:
    """Return every day from first to last, both included."""
    return tuple(first + timedelta(n) for n in range((last - first).days + 1))


def choose(days: Iterable[date], status: str, why: str) -> Resolved:
    """Return the days as one answer: a single day keeps ``status``, several are unclear."""
    ordered = tuple(sorted(set(days)))
    return Resolved(status if len(ordered) == 1 else UNCLEAR, ordered, why)


def coming(today: date, weekday: int) -> date:
    """Return the next such weekday, today excluded."""
    return shift(today, (weekday - today.weekday() - 1) % 7 + 1)


def nearest(day: date, weekdays: Sequence[int], today: date) -> tuple[date, ...]:
    """Return the day and the nearest days around it that fall on one of the weekdays, none before today."""
    around = [shift(day, offset) for offset in (-3, -2, -1, 1, 2, 3)]
    fitting = [near for near in around if near.weekday() in weekdays]
    return tuple(sorted(near for near in [day, *fitting] if near >= today))


@dataclass(frozen=True, slots=True)
class MonthDay:
    """Days of a month: "Sat June 5", "5-7 June 2027". ``years_on``: 1 for "next year"."""

    month: int
    days: tuple[int, ...]
    joined: str = ""
    year: int | None = None
    years_on: int | None = None
    weekdays: tuple[int, ...] = ()

    def resolve(self, frame: Frame) -> Resolved:
        """Return the next such day, or those of the year that was said."""
        year = self._said_year(frame.today)
        found = [self._one(day, year, frame.today) for day in self.days]
        bad = next((one for one in found if one.status in (IMPOSSIBLE, PAST)), None)
        if bad is not None:
            return bad
        days = tuple(day for one in found for day in one.days)
        if self.joined == "to" and len(days) == 2 and days[0] < days[1]:
            days = days_between(days[0], days[1])
        if len(days) > 1:
            return Resolved(UNCLEAR, days, "several days are named")
        return found[0]

    def _said_year(self, today: date) -> int | None:
        return self.year if self.years_on is None else today.year + self.years_on

    def _one(self, day: int, year: int | None, today: date) -> Resolved:
        if year is None:
            return self._next(day, today)
        said = make_date(year, self.month, day)
        if said is None:
            return _no_such_day(year, self.month, today)
        if said < today:
            return Resolved(PAST, (said,), f"{said} is past")
        return self._on_weekday(said, today, STATED)

    def _next(self, day: int, today: date) -> Resolved:
        for year in (today.year, today.year + 1):
            said = make_date(year, self.month, day)
            if said is not None and said >= today:
                return self._unsaid_year(said, today)
            if said is None and date(year, self.month, 28) >= today:
                return _no_such_day(year, self.month, today)
        return _no_such_day(today.year + 1, self.month, today)

    def _unsaid_year(self, said: date, today: date) -> Resolved:
        before = make_date(said.year - 1, said.month, said.day)
        recent = before is not None and (today - before).days <= RECENT_DAYS
        fits_before = before is not None and (not self.weekdays or before.weekday() in self.weekdays)
        if recent and fits_before:
            return Resolved(PAST, (said,), f"{before} has just passed")
        return self._on_weekday(said, today, STATED)

    def _on_weekday(self, said: date, today: date, status: str) -> Resolved:
        if self.weekdays and said.weekday() not in self.weekdays:
            options = nearest(said, self.weekdays, today)
            return Resolved(IMPOSSIBLE, options, f"{said} is a {said:%A}")
        if said.year - today.year >= FAR_YEARS:
            return Resolved(UNCLEAR, (said,), f"{said} is years away")
        return Resolved(status, (said,), "")


def _no_such_day(year: int, month: int, today: date) -> Resolved:
    """Say that a month has no such day, with its last day and the next month's first."""
    first_after = date(year + month // 12, month % 12 + 1, 1)
    options = tuple(day for day in (shift(first_after, -1), first_after) if day >= today)
    return Resolved(IMPOSSIBLE, options, f"the month has no such day in {year}")


@dataclass(frozen=True, slots=True)
class Numeric:
    """Two numbers as a date, "7/8" or "9/18/27": which is the month is the locale's habit, unless one reading fits."""

    first: int
    second: int
    year: int | None = None
    weekdays: tuple[int, ...] = ()

    def resolve(self, frame: Frame) -> Resolved:
        """Return the day in the locale's order; both when the weekday or an unsure locale speaks for the other."""
        usual, other = (self.second, self.first), (self.first, self.second)
        if not frame.day_first:
            usual, other = other, usual
        readings = {pair: self._as(*pair) for pair in (usual, other) if 1 <= pair[0] <= 12 and 1 <= pair[1] <= 31}
        if not readings:
            return Resolved(IMPOSSIBLE, (), "no month has this number")
        resolved = {pair: phrase.resolve(frame) for pair, phrase in readings.items()}
        if len(resolved) == 1:
            return next(iter(resolved.values()))
        return self._between(resolved[usual], resolved[other], frame)

    def _as(self, month: int, day: int) -> MonthDay:
        return MonthDay(month, (day,), year=self.year, weekdays=self.weekdays)

    def _between(self, usual: Resolved, other: Resolved, frame: Frame) -> Resolved:
        if usual.status == STATED and (self.weekdays and other.status != STATED):
            return usual
        if usual.status == STATED and frame.order_sure:
            return Resolved(INFERRED, usual.days, "day and month in the order usual here")
        if usual.status == IMPOSSIBLE and other.status == IMPOSSIBLE:
            return usual
        options = [day for one in (usual, other) if one.status == STATED for day in one.days]
        if usual.status == IMPOSSIBLE:
            options = [*usual.days[:1], *options]
        return Resolved(UNCLEAR, tuple(sorted(set(options))) or usual.days, "day and month could be either way round")


@dataclass(frozen=True, slots=True)
class Nth:
    """A day of a month that is not named: "the 14th", "Sat the 14th", "the 5th or the 6th"."""

    days: tuple[int, ...]
    joined: str = ""
    weekdays: tuple[int, ...] = ()

    def resolve(self, frame: Frame) -> Resolved:
        """Return the next such day: inferred, or stated when a weekday confirms it."""
        if frame.month is not None:
            year, month = frame.month
            return MonthDay(month, self.days, self.joined, year, None, self.weekdays).resolve(frame)
        if len(self.days) > 1:
            return self._several(frame.today)
        return self._single(self.days[0], frame.today)

    def _several(self, today: date) -> Resolved:
        first = next(iter(_months_ahead(self.days[0], today)), None)
        if first is None:
            return Resolved(IMPOSSIBLE, (), "no month has such a day")
        later = [make_date(first.year, first.month, day) for day in self.days[1:]]
        days = (first, *(day for day in later if day is not None and day > first))
        if self.joined == "to" and len(days) == 2:
            days = days_between(days[0], days[1])
        return Resolved(UNCLEAR, days, "several days are named, no month")

    def _single(self, day: int, today: date) -> Resolved:
        ahead = list(_months_ahead(day, today))
        if not ahead:
            return Resolved(IMPOSSIBLE, (), "no month has such a day")
        if not self.weekdays:
            return Resolved(INFERRED, (ahead[0],), "the next such day")
        fitting = [one for one in ahead if one.weekday() in self.weekdays]
        if fitting and fitting[0] == ahead[0]:
            return Resolved(STATED, (fitting[0],), "the weekday confirms the next such day")
        if fitting and (fitting[0] - today).days <= SURE_WITHIN_DAYS:
            return Resolved(INFERRED, (fitting[0],), "the first such day on that weekday")
        options = {ahead[0], *nearest(ahead[0], self.weekdays, today)[:3], *fitting[:1]}
        return Resolved(UNCLEAR, tuple(sorted(options)), "the next such day falls on another weekday")


def _months_ahead(day: int, today: date) -> Iterable[date]:
    """Yield the days with this number in the coming twelve months, today included."""
    for step in range(13):
        month = today.month - 1 + step
        found = make_date(today.year + month // 12, month % 12 + 1, day)
        if found is not None and found >= today:
            yield found
