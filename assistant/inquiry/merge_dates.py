"""Keeps the event's date: corrected by later words, moved by "a week later", chosen among options."""

from dataclasses import replace
from datetime import date
from typing import Any

from assistant.inquiry.merge_values import places
from assistant.reading.date_moves import CHOOSE
from assistant.reading.date_roles import EVENT
from assistant.reading.dates import beside, date_fact
from assistant.reading.days import (
    IMPOSSIBLE,
    INFERRED,
    MOST_OPTIONS,
    STATED,
    UNCLEAR,
    Frame,
    MonthDay,
    Nth,
    Numeric,
    Resolved,
    coming,
    shift,
)
from assistant.reading.findings import CONSIDER, KEEP, SHIFT, UNSETTLE, WITHDRAW, Finding
from assistant.reading.weeks import Between, Month, NthWeekday, Week, Weekday, Weekend

KEY = "event_date"
NEAR_DAYS = 7
VAGUE = (Month, Week, Weekend)


def _beside(day: date, weekday: int, way: int) -> date:
    """Return the nearest such weekday strictly after (way 1) or before (way -1) a day."""
    after = coming(day, weekday)
    return after if way > 0 else shift(after, -14 if day.weekday() == weekday else -7)


class DateKeeper:
    """The date as it stands, and the first one that was ever sure."""

    def __init__(self, today: date) -> None:
        self.today = today
        self._now: Finding | None = None
        self._first: Finding | None = None
        self._spoken: date | None = None
        self._from: list[list[int]] = []

    def hear(self, finding: Finding, message: int) -> None:
        """Take one finding into account."""
        change = {WITHDRAW: self._withdrawn, CONSIDER: self._considered, SHIFT: self._shifted, KEEP: self._kept}
        change |= {CHOOSE: self._chosen, UNSETTLE: self._unsettled}
        told = change.get(finding.mode, self._given)(finding)
        if told is None or told is self._now:
            return
        said = places(finding, message)
        self._from = self._from + said if self._builds_on(finding) else said
        self._now = told
        self._spoken = self._day() or self._spoken
        if told.value is not None and self._first is None:
            self._first = told

    def _builds_on(self, finding: Finding) -> bool:
        """Tell whether the words say the date only together with those before."""
        return finding.mode in (SHIFT, KEEP, CHOOSE) or isinstance(
            (finding.extra or {}).get("phrase"), Nth | NthWeekday | Weekday
        )

    def _given(self, finding: Finding) -> Finding | None:
        phrase = (finding.extra or {}).get("phrase")
        known = self._day()
        if known is not None:
            return self._given_beside(finding, phrase, known)
        if self._now is None or not self._now.options:
            near = beside(phrase, self._spoken, self.today) if self._spoken and phrase is not None else None
            return self._resolved(finding, near) if near is not None and near.days else finding
        return self._picked(finding, phrase) or finding

    def _given_beside(self, finding: Finding, phrase: Any, known: date) -> Finding:
        assert self._now is not None
        about = finding.extra or {}
        if about.get("role", EVENT) != EVENT:
            return self._now
        if finding.value == self._now.value:
            return replace(self._now, status=STATED if STATED in (finding.status, self._now.status) else INFERRED)
        monthless = isinstance((self._now.extra or {}).get("phrase"), Nth)
        if isinstance(phrase, Month) and phrase.month and (about.get("changed") or monthless):
            other = MonthDay(phrase.month, (known.day,), year=phrase.year).resolve(Frame(self.today))
            return self._resolved(finding, other)
        if isinstance(phrase, Between) and about.get("asked"):
            return self._in_months(finding, phrase, known)
        if isinstance(phrase, VAGUE) and known.isoformat() in self._days_of(finding):
            return self._now
        near = beside(phrase, known, self.today) if phrase is not None else None
        if near is not None and near.only == known:
            return self._now
        told = self._resolved(finding, near) if near is not None and near.days else finding
        return self._either(told, known) if about.get("asked") or self._is_odd(finding, phrase, known) else told

    def _in_months(self, finding: Finding, phrase: Between, known: date) -> Finding:
        """Doubt the month ("of March or April?"): the day known, in each of the months asked about."""
        months = [end.month for end in (phrase.first, phrase.last) if isinstance(end, Month) and end.month]
        days = [MonthDay(month, (known.day,)).resolve(Frame(self.today)) for month in months]
        listed = tuple(sorted({day.isoformat() for one in days if one.status == STATED for day in one.days}))
        return (
            replace(finding, value=None, status=UNCLEAR, options=listed, why="the month is asked")
            if listed
            else finding
        )

    def awaits_number(self, number: int, message: int) -> bool:
        """Tell whether a number that is the whole message answers a month that the message before it named."""
        days = [date.fromisoformat(day) for day in self._now.options] if self._now is not None else []
        one_month = len({(day.year, day.month) for day in days}) == 1 and len(days) > MOST_OPTIONS
        follows = bool(self._from) and self._from[-1][0] == message - 1
        return one_month and follows and any(day.day == number for day in days)

    def number(self, finding: Finding, message: int) -> None:
        """Take a number alone as the day in the month spoken of, to be confirmed."""
        assert self._now is not None
        day = next(day for day in self._now.options if date.fromisoformat(day).day == finding.value)
        why = "the day in the month named before"
        self._now = replace(self._now, value=day, status=INFERRED, options=(), why=why)
        self._from = self._from + places(finding, message)

    def _either(self, told: Finding, known: date) -> Finding:
        """Doubt the day when another one is only asked about ("is the 19th open too?")."""
        days = tuple(sorted({known.isoformat(), *self._days_of(told)}))
        return replace(told, value=None, status=UNCLEAR, options=days, why="another day is asked about")

    @staticmethod
    def _is_odd(finding: Finding, phrase: Any, known: date) -> bool:
        """Tell whether numbers near a day known may be something else ("its 4/3", then "at 4/4 my cousins house")."""
        said = date.fromisoformat(finding.value) if finding.value else known
        about = finding.extra or {}
        near = abs((said - known).days) <= NEAR_DAYS and not about.get("changed")
        return isinstance(phrase, Numeric) and near and bool(about.get("led_by_at"))

    @staticmethod
    def _resolved(finding: Finding, days: Resolved) -> Finding:
        listed = tuple(day.isoformat() for day in days.days)
        status = INFERRED if days.status == STATED else days.status
        if len(listed) == 1 and status in (STATED, INFERRED):
            return replace(finding, value=listed[0], status=status, options=(), why=days.why)
        return replace(finding, value=None, status=UNCLEAR if status != IMPOSSIBLE else status, options=listed)

    def _picked(self, finding: Finding, phrase: Any) -> Finding | None:
        """Return the option that a clarifying answer picks ("saturday", "the 23rd", "June 12")."""
        assert self._now is not None
        options = [date.fromisoformat(day) for day in self._now.options]
        if isinstance(phrase, NthWeekday):
            months = dict.fromkeys((day.year, day.month) for day in options)
            nth = [phrase.in_month(*month).resolve(Frame(self.today)).only for month in months]
            fitting = [day for day in options if day in nth]
        elif isinstance(phrase, Nth):
            fitting = [day for day in options if day.day in phrase.days]
        elif isinstance(phrase, Weekday) and not phrase.which:
            fitting = [day for day in options if day.weekday() in phrase.weekdays]
        else:
            said = self._days_of(finding)
            fitting = [day for day in options if day.isoformat() in said]
        if not fitting:
            return self._in_month_spoken_of(finding, phrase, options)
        if len(fitting) == 1:
            return replace(finding, value=fitting[0].isoformat(), status=STATED, options=(), why="picked")
        return replace(finding, value=None, status=UNCLEAR, options=tuple(day.isoformat() for day in fitting))

    def _in_month_spoken_of(self, finding: Finding, phrase: Any, options: list[date]) -> Finding | None:
        """Read a bare day number in the one month of the options."""
        months = {(day.year, day.month) for day in options}
        if not isinstance(phrase, Nth) or len(months) != 1:
            return None
        near = beside(phrase, options[0], self.today)
        return self._resolved(finding, near) if near is not None and near.days else None

    def _withdrawn(self, finding: Finding) -> Finding | None:
        if self._now is None:
            return None
        gone = self._days_of(finding) | self._same_numbers(finding)
        if self._now.value in gone:
            return replace(self._now, value=None, status=UNCLEAR, options=(), why="taken back")
        left = tuple(day for day in self._now.options if day not in gone)
        if len(left) == len(self._now.options) or not left:
            return self._now
        if len(left) == 1:
            return replace(self._now, value=left[0], status=INFERRED, options=(), why="the other days fell away")
        return replace(self._now, options=left)

    def _same_numbers(self, finding: Finding) -> set[str]:
        """Return the days known that a bare number or weekday may mean ("the 5th won't work")."""
        assert self._now is not None
        phrase = (finding.extra or {}).get("phrase")
        known = [day for day in (self._now.value, *self._now.options) if day]
        if isinstance(phrase, Nth):
            return {day for day in known if date.fromisoformat(day).day in phrase.days}
        if isinstance(phrase, Weekday):
            return {day for day in known if date.fromisoformat(day).weekday() in phrase.weekdays}
        return set()

    def _considered(self, finding: Finding) -> Finding | None:
        if self._now is None:
            return replace(finding, status=INFERRED if finding.value else finding.status)
        return self._now

    def _shifted(self, finding: Finding) -> Finding | None:
        known = self._day()
        if known is None or self._now is None:
            return self._now
        weekday = (finding.extra or {}).get("weekday")
        moved = shift(known, int(finding.value)) if weekday is None else _beside(known, weekday, int(finding.value))
        return replace(self._now, value=moved.isoformat(), why=finding.rule)

    def _unsettled(self, finding: Finding) -> Finding | None:
        """Doubt the day known without forgetting it."""
        if self._now is None or self._now.value is None:
            return self._now
        return replace(self._now, value=None, status=UNCLEAR, options=(self._now.value,), why=finding.rule)

    def _kept(self, finding: Finding) -> Finding | None:
        return self._first if finding.value == "first" and self._first is not None else self._now

    def _chosen(self, finding: Finding) -> Finding | None:
        if self._now is None or self._now.value is not None:
            return self._now
        index = int(finding.value)
        if not -len(self._now.options) <= index < len(self._now.options):
            return self._now
        return replace(self._now, value=self._now.options[index], status=STATED, options=(), why="chosen")

    def _day(self) -> date | None:
        return date.fromisoformat(self._now.value) if self._now is not None and self._now.value else None

    @staticmethod
    def _days_of(finding: Finding) -> set[str]:
        return {finding.value} if finding.value else set(finding.options)

    def edit(self, fact: Any) -> None:
        """Take the designer's date."""
        fact = fact if isinstance(fact, dict) else {"value": fact}
        options = tuple(fact.get("options") or fact.get("span") or ())
        told = bool(fact.get("value") or options)
        self._now = Finding(KEY, fact.get("value"), fact.get("status", STATED), options=options) if told else None
        self._first = self._now if self._now and self._now.value else self._first
        self._from = []

    def fact(self) -> dict[str, Any] | None:
        """Return the fact in the contract's shape, or None."""
        if self._now is None or (self._now.value is None and not self._now.options and self._now.status == UNCLEAR):
            return None
        return date_fact(self._now) | ({"from": self._from} if self._from else {})

    def source(self) -> list[list[int]]:
        """Return the words that gave the date."""
        return self._from
