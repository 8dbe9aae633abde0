"""Holidays by rule: a fixed day, the nth weekday of a month, so many days from Easter; and the weekend around one."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from dateutil.easter import easter

from assistant.reading.days import (
    PAST,
    STATED,
    UNCLEAR,
    DayPhrase,
    Frame,
    Resolved,
    make_date,
    shift,
)

JUST_PASSED_DAYS = 7  # whoever names a holiday of last week may mean that one


@dataclass(frozen=True)
class HolidayRule:
    """One way to find a holiday's day in a year.

    name: as in the word files. regions: countries it holds for ("*": everywhere). day: fixed day of the month.
    nth, weekday: nth weekday of the month (0 Monday; nth 5: the last). easter: days from Easter Sunday.
    theme: true when "a <name> party" is mostly not on the day itself. source: where the rule is from.
    """

    __pydantic_config__ = {"extra": "forbid"}  # noqa: RUF012

    name: str
    regions: list[str]
    source: str
    month: int = 0
    day: int = 0
    nth: int = 0
    weekday: int = 0
    easter: int | None = None
    before: int = 0
    theme: bool = False

    def __post_init__(self) -> None:
        ways = [bool(self.day), bool(self.nth), self.easter is not None]
        if sum(ways) != 1:
            raise ValueError(f"holiday {self.name} needs exactly one of day, nth or easter: keep one")
        if self.easter is None and not 1 <= self.month <= 12:
            raise ValueError(f"holiday {self.name} has month {self.month}: give 1 to 12")

    def in_year(self, year: int) -> date | None:
        """Return the holiday's day in a year."""
        if self.easter is not None:
            return shift(easter(year), self.easter)
        if self.day:
            return make_date(year, self.month, self.day)
        return shift(_nth_weekday(year, self.month, self.weekday, self.nth), -self.before)


JUST_PASSED_DAYS = 7  # whoever names a holiday of last week may mean that one


@dataclass(frozen=True)
class HolidayRules:
    """The file rules/holidays.yaml."""

    __pydantic_config__ = {"extra": "forbid"}  # noqa: RUF012

    holidays: list[HolidayRule]


def _nth_weekday(year: int, month: int, weekday: int, nth: int) -> date:
    first = date(year, month, 1)
    day = shift(first, (weekday - first.weekday()) % 7 + 7 * (nth - 1))
    return day if day.month == month else shift(day, -7)


class HolidayCalendar:
    """The studio's holiday rules by name."""

    def __init__(self, rules: Iterable[HolidayRule]) -> None:
        self._by_name: dict[str, list[HolidayRule]] = {}
        for rule in rules:
            self._by_name.setdefault(rule.name, []).append(rule)

    def next_days(self, name: str, regions: Sequence[str], today: date, year: int | None = None) -> tuple[date, ...]:
        """Return the holiday's next day from today on (or in the year given), one for each region that differs."""
        rules = self._by_name.get(name, [])
        local = [r for r in rules if "*" in r.regions or set(regions) & set(r.regions)] or rules
        found = {day for rule in local if (day := _next(rule, today, year)) is not None}
        return tuple(sorted(found))

    def is_theme(self, name: str) -> bool:
        """Tell whether a party named after the holiday is mostly held on another day."""
        return any(rule.theme for rule in self._by_name.get(name, []))


def _next(rule: HolidayRule, today: date, year: int | None) -> date | None:
    if year is not None:
        return rule.in_year(year)
    days = [rule.in_year(one) for one in (today.year, today.year + 1, today.year + 2)]
    return next((day for day in days if day is not None and day >= today), None)


@dataclass(frozen=True, slots=True)
class Holiday:
    """A holiday by name, ``plus`` days on ("the day after Thanksgiving")."""

    name: str
    plus: int = 0
    year: int | None = None
    years_on: int | None = None

    def resolve(self, frame: Frame) -> Resolved:
        """Return the holiday's day; more than one when the regions keep it on different days."""
        year = self.year if self.years_on is None else frame.today.year + self.years_on
        days = tuple(shift(day, self.plus) for day in frame.holidays(self.name, frame.today, year))
        if len(days) != 1:
            return Resolved(UNCLEAR, days, "the holiday has more than one day")
        if year is None and self._just_passed(days[0], frame):
            return Resolved(PAST, days, "it has just passed")
        return Resolved(PAST if days[0] < frame.today else STATED, days, "the holiday's day")

    def _just_passed(self, coming: date, frame: Frame) -> bool:
        """Tell whether the holiday was in the last days, so that it may be meant itself."""
        before = frame.holidays(self.name, frame.today, coming.year - 1)
        return any(0 < (frame.today - shift(day, self.plus)).days <= JUST_PASSED_DAYS for day in before)


@dataclass(frozen=True, slots=True)
class HolidayWeekend:
    """The long weekend at a holiday: from the Saturday before to the holiday, or from the holiday to the Sunday."""

    holiday: DayPhrase

    def resolve(self, frame: Frame) -> Resolved:
        """Return its days, at least Saturday and Sunday."""
        found = self.holiday.resolve(frame)
        if found.only is None:
            return found
        days = _long_weekend(found.only)
        return Resolved(UNCLEAR, tuple(day for day in days if day >= frame.today), "a weekend has several days")


def _long_weekend(day: date) -> tuple[date, ...]:
    weekday = day.weekday()
    if weekday >= 3:  # Thursday to Sunday: from the day (at least from Saturday) to Sunday
        first = shift(day, -1) if weekday == 6 else day
        return tuple(shift(first, n) for n in range((6 - first.weekday()) + 1))
    saturday = shift(day, -(weekday + 2))
    last = day if weekday < 2 else shift(saturday, 1)
    return tuple(shift(saturday, n) for n in range((last - saturday).days + 1))
