"""Days told by the week: weekdays, weekends, weeks, months, and so many days from another day."""

from dataclasses import dataclass, replace
from datetime import date

from assistant.reading.days import (
    INFERRED,
    PAST,
    STATED,
    UNCLEAR,
    DayPhrase,
    Frame,
    MonthDay,
    Resolved,
    choose,
    coming,
    days_between,
    make_date,
    shift,
)

SATURDAY, SUNDAY = 5, 6
THIS_OR_NEXT = "this_or_next"
LONGEST_RANGE_DAYS = 200


@dataclass(frozen=True, slots=True)
class Weekday:
    """A weekday without a date; ``which`` is "" (plain), this, next, after_next or last; ``weeks_on`` adds weeks."""

    weekdays: tuple[int, ...]
    which: str = ""
    weeks_on: int = 0

    def resolve(self, frame: Frame) -> Resolved:
        """Return the coming one; "next" has two readings unless today makes them one."""
        if self.which == "last":
            return Resolved(PAST, tuple(shift(coming(frame.today, day), -7) for day in self.weekdays), "it is past")
        days = [shift(day, 7 * self.weeks_on) for one in self.weekdays for day in self._days(one, frame.today)]
        sure = STATED if self.which or self.weeks_on else INFERRED
        return choose(days, sure, "the coming one" if len(set(days)) == 1 else "more than one day fits")

    def _days(self, weekday: int, today: date) -> list[date]:
        near = coming(today, weekday)
        is_today = today.weekday() == weekday
        if self.which == "next":
            monday = shift(today, 7 - today.weekday())
            sunday = shift(today, -((today.weekday() + 1) % 7) + 7)
            return [near, shift(monday, weekday), shift(sunday, (weekday + 1) % 7)]
        if self.which == THIS_OR_NEXT:
            return [near, shift(near, 7)]
        if self.which == "after_next":
            return [shift(near, 7), shift(near, 14)]
        return [today, near] if is_today else [near]


@dataclass(frozen=True, slots=True)
class Offset:
    """So many days from today, or from another phrase's day: "in two weeks", "two weeks from this Saturday"."""

    days: int
    base: DayPhrase | None = None
    about: bool = False

    def resolve(self, frame: Frame) -> Resolved:
        """Return the day; "about" gives the three days before and after as well."""
        base = Resolved(STATED, (frame.today,)) if self.base is None else self.base.resolve(frame)
        days = tuple(shift(day, self.days) for day in base.days)
        if self.about and len(days) == 1:
            first = max(frame.today, shift(days[0], -3))
            return Resolved(UNCLEAR, days_between(first, shift(days[0], 3)), "only about that day")
        if days and max(days) < frame.today:
            return Resolved(PAST, days, "it is past")
        long = self.base is None and abs(self.days) > 2
        return Resolved(INFERRED if long and base.status == STATED else base.status, days, "counted from that day")


@dataclass(frozen=True, slots=True)
class WeekdayNear:
    """A weekday beside another day: "the Saturday before Halloween", "the Friday after June 5"."""

    weekday: int
    way: int
    base: DayPhrase

    def resolve(self, frame: Frame) -> Resolved:
        """Return the nearest such weekday strictly before or after."""
        base = self.base.resolve(frame)
        if base.only is None:
            return Resolved(UNCLEAR, base.days, "the day beside it is not clear")
        after = coming(base.only, self.weekday)
        day = after if self.way > 0 else shift(after, -7 if base.only.weekday() != self.weekday else -14)
        return Resolved(PAST if day < frame.today else STATED, (day,), "counted from that day")


@dataclass(frozen=True, slots=True)
class Weekend:
    """A weekend: this, next, or the one of another day."""

    which: str = "this"
    base: DayPhrase | None = None
    weeks_on: int = 0

    def resolve(self, frame: Frame) -> Resolved:
        """Return its Saturday and Sunday; "next weekend" has two readings."""
        if self.base is not None:
            return self._of(self.base.resolve(frame), frame)
        saturday = shift(frame.today, (SATURDAY - frame.today.weekday()) % 7)
        if frame.today.weekday() == SUNDAY:
            saturday = shift(frame.today, 6)
        starts = {"this": [0], "next": [0, 7], "after_next": [7, 14], "last": [-7]}[self.which]
        if self.which == "next" and frame.today.weekday() in (SATURDAY, SUNDAY):
            starts = [7] if frame.today.weekday() == SATURDAY else [0]
        days = [shift(saturday, start + plus + 7 * self.weeks_on) for start in starts for plus in (0, 1)]
        if self.which == "last":
            return Resolved(PAST, tuple(days), "it is past")
        return Resolved(UNCLEAR, tuple(day for day in days if day >= frame.today), "a weekend has two days")

    @property
    def _is_last_of_month(self) -> bool:
        return isinstance(self.base, Month) and self.base.nth == -1 and not self.weeks_on

    def _of(self, base: Resolved, frame: Frame) -> Resolved:
        if not base.days or base.status == PAST:
            return base
        first = base.days[0]
        saturday = shift(first, -1) if first.weekday() == SUNDAY else shift(first, (SATURDAY - first.weekday()) % 7)
        saturday = shift(saturday, 7 * self.weeks_on)
        weekend = [saturday, shift(saturday, 1)]
        if self._is_last_of_month and weekend[0].month != weekend[1].month:  # the one before is the last whole one
            weekend = [shift(saturday, -7), shift(saturday, -6), *weekend]
        days = tuple(day for day in weekend if day >= frame.today)
        return Resolved(UNCLEAR, days, "a weekend has two days")


@dataclass(frozen=True, slots=True)
class Week:
    """A week: next week, or the week of a day; Monday to Sunday (ISO 8601)."""

    weeks_on: int = 0
    base: DayPhrase | None = None

    def resolve(self, frame: Frame) -> Resolved:
        """Return its days from today on."""
        base = Resolved(STATED, (frame.today,)) if self.base is None else self.base.resolve(frame)
        if not base.days or base.status == PAST:
            return base
        monday = shift(base.days[0], 7 * self.weeks_on - base.days[0].weekday())
        days = tuple(day for day in days_between(monday, shift(monday, 6)) if day >= frame.today)
        return Resolved(UNCLEAR, days, "a week, no day")


@dataclass(frozen=True, slots=True)
class Month:
    """A month, or its days ``first`` to ``last``; with weekdays, those alone; ``nth`` picks one of them (-1: last)."""

    month: int | None = None
    year: int | None = None
    years_on: int | None = None
    months_on: int = 0
    first: int = 1
    last: int = 31
    weekdays: tuple[int, ...] = ()
    nth: int = 0

    def resolve(self, frame: Frame) -> Resolved:
        """Return the days of the coming month of that name that are still ahead."""
        if self.months_on < 0:
            return Resolved(PAST, (), "it is past")
        year, month = self._which(frame)
        days = [day for n in range(1, 32) if (day := make_date(year, month, n)) is not None]
        days = [day for day in days if not self.weekdays or day.weekday() in self.weekdays]
        if self.nth:
            return self._pick(days, frame.today)
        ending = [day for day in days if self.first <= day.day <= self.last] if self.first > 0 else days[self.first :]
        ahead = tuple(day for day in ending if day >= frame.today)
        return Resolved(UNCLEAR, ahead, "a month, no day") if ahead else Resolved(PAST, tuple(days), "it is past")

    def _which(self, frame: Frame) -> tuple[int, int]:
        today = frame.today
        if self.month is None:
            if frame.month is not None and not self.months_on:
                return frame.month
            count = today.year * 12 + today.month - 1 + self.months_on
            return count // 12, count % 12 + 1
        if self.year is not None or self.years_on is not None:
            return self.year or today.year + (self.years_on or 0), self.month
        return today.year + (self.month < today.month), self.month

    def _pick(self, days: list[date], today: date) -> Resolved:
        index = self.nth - 1 if self.nth > 0 else self.nth
        if not -len(days) <= index < len(days):
            return Resolved("impossible", tuple(days[-1:]), "the month has no such weekday")
        day = days[index]
        if day < today and self.month is not None and self.year is None and self.years_on is None:
            return replace(self, year=day.year + 1).resolve(Frame(today))
        return Resolved(PAST if day < today else STATED, (day,), "counted in the month")


@dataclass(frozen=True, slots=True)
class Among:
    """A weekday among the days of another phrase: "the Saturday of that weekend", "Friday next week"."""

    weekdays: tuple[int, ...]
    base: DayPhrase

    def resolve(self, frame: Frame) -> Resolved:
        """Return the days of the other phrase that fall on the weekday."""
        base = self.base.resolve(frame)
        days = [day for day in base.days if day.weekday() in self.weekdays]
        return choose(days, STATED, "the weekday among them") if days else base


@dataclass(frozen=True, slots=True)
class Between:
    """All days from one phrase's day to another's: "May 30 to June 2"."""

    first: DayPhrase
    last: DayPhrase

    def resolve(self, frame: Frame) -> Resolved:
        """Return the days from the first to the last."""
        first, last = self.first.resolve(frame), self.last.resolve(frame)
        if first.only is None or last.only is None or not first.only < last.only:
            return Resolved(UNCLEAR, tuple(sorted({*first.days, *last.days})), "from one day to another")
        if (last.only - first.only).days > LONGEST_RANGE_DAYS:
            return Resolved(UNCLEAR, (first.only, last.only), "from one day to another")
        return Resolved(UNCLEAR, days_between(first.only, last.only), "from one day to another")


@dataclass(frozen=True, slots=True)
class NthIn:
    """A day of this month or the next: "the 14th of next month"."""

    days: tuple[int, ...]
    joined: str
    months_on: int
    weekdays: tuple[int, ...] = ()

    def resolve(self, frame: Frame) -> Resolved:
        """Return the day in that month."""
        count = frame.today.year * 12 + frame.today.month - 1 + self.months_on
        return MonthDay(count % 12 + 1, self.days, self.joined, count // 12, None, self.weekdays).resolve(frame)


@dataclass(frozen=True, slots=True)
class NthWeekday:
    """The second Saturday of a month that is not named here."""

    weekday: int
    nth: int

    def resolve(self, frame: Frame) -> Resolved:
        """Return it in the month spoken of; without one, in this month and the next, as options."""
        if frame.month is not None:
            return self.in_month(*frame.month).resolve(frame)
        count = frame.today.year * 12 + frame.today.month - 1
        found = [self.in_month((count + n) // 12, (count + n) % 12 + 1).resolve(frame) for n in (0, 1)]
        return Resolved(UNCLEAR, tuple(day for one in found if one.status == STATED for day in one.days), "no month")

    def in_month(self, year: int, month: int) -> Month:
        """Return the day as one of a month."""
        return Month(month, year, weekdays=(self.weekday,), nth=self.nth)


@dataclass(frozen=True, slots=True)
class WeekdayAbout:
    """A weekday about so many days on: "in 3 weeks on a Saturday"."""

    weekday: int
    base: DayPhrase

    def resolve(self, frame: Frame) -> Resolved:
        """Return the one nearest to the day counted, which at most three days part from it."""
        base = self.base.resolve(frame)
        days = [shift(day, n) for day in base.days[:1] for n in range(-3, 4) if shift(day, n).weekday() == self.weekday]
        ahead = tuple(day for day in days if day >= frame.today)
        return Resolved(INFERRED if ahead else PAST, ahead, "the weekday nearest to the day counted")
