"""Rules for days told by the week, the weekend or the month. Nodes: ``day``, ``month_words``."""

from dataclasses import replace
from typing import Any

from assistant.reading.days import MonthDay, Nth, Numeric
from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.holidays import Holiday, HolidayWeekend
from assistant.reading.node import Node
from assistant.reading.weeks import (
    THIS_OR_NEXT,
    Among,
    Between,
    Month,
    Offset,
    Week,
    Weekday,
    WeekdayNear,
    Weekend,
)

RULES = Rules()
PARTS = {"early": (1, 10), "mid": (11, 20), "late": (-10, 31)}
DATES = (MonthDay, Nth, Numeric)


@RULES.rule("weekday alone", "day", kind("weekdays"))
def weekday_alone(weekdays: Node) -> object:
    return Weekday(weekdays.value)


@RULES.rule(
    "on sat",
    "day",
    word("on", "for", "by", "til", "till", "until", "before", "from", "el", "are", "is"),
    kind("weak_weekdays"),
)
def on_weak_weekday(weekdays: Node) -> object:
    return Weekday(weekdays.value)


@RULES.rule("short weekday alone", "lone_weekday", kind("weak_weekdays"))
def weak_weekday_alone(weekdays: Node) -> object:
    return Weekday(weekdays.value)


@RULES.rule("this or next weekday", "day", kind("which"), kind("weekdays", "weak_weekdays"))
def which_weekday(which: Node, weekdays: Node) -> object:
    return Weekday(weekdays.value, which.value)


@RULES.rule(
    "this weekday or next",
    "day",
    kind("which"),
    kind("weekdays", "weak_weekdays"),
    word("or", "o"),
    maybe("the"),
    kind("which"),
)
def this_or_next(which: Node, weekdays: Node, other: Node) -> object:
    return Weekday(weekdays.value, THIS_OR_NEXT) if (which.value, other.value) == ("this", "next") else None


@RULES.rule(
    "next open saturday",
    "no_date",
    word("next", "first", "soonest", "earliest"),
    word("open", "available", "free", "avail"),
    kind("weekdays", "weekend_word"),
)
def next_open(weekdays: Node) -> object:
    """Whoever asks for the studio's next free day names none."""
    return weekdays.value


@RULES.rule("weekday after next", "day", maybe("the"), kind("weekdays", "weak_weekdays"), kind("which_after"))
def weekday_after(weekdays: Node, which: Node) -> object:
    return Weekday(weekdays.value, which.value)


@RULES.rule("saturday week", "day", kind("weekdays"), kind("week_word"))
def weekday_week(weekdays: Node, _week: Node) -> object:
    return Weekday(weekdays.value, "this", 1)


@RULES.rule("weekday in a week", "day", kind("weekdays"), word("in"), kind("duration"))
def weekday_in(weekdays: Node, duration: Node) -> object:
    days, _ = duration.value
    return Among(weekdays.value, Week(days // 7)) if days % 7 == 0 else None


@RULES.rule("this or next weekend", "day", kind("which"), kind("weekend_word"))
def which_weekend(which: Node, _weekend: Node) -> object:
    return Weekend(which.value)


@RULES.rule("weekend after next", "day", maybe("the"), kind("weekend_word"), kind("which_after"))
def weekend_after(_weekend: Node, which: Node) -> object:
    return Weekend({"next": "next", "after_next": "after_next", "last": "last"}[which.value])


@RULES.rule("weekend of a day", "day", kind("weekend_word"), word("of", "del", "de"), maybe("the", "el"), kind("day"))
def weekend_of(_weekend: Node, day: Node) -> object:
    return _weekend_at(day)


@RULES.rule("a day's weekend", "day", kind("day"), kind("weekend_word"))
def day_weekend(day: Node, _weekend: Node) -> object:
    return _weekend_at(day)


def _weekend_at(day: Node) -> object:
    if isinstance(day.value, Holiday | MonthDay):
        return HolidayWeekend(day.value)
    return Weekend("", day.value) if isinstance(day.value, DATES) else None


@RULES.rule("weekend after a day", "day", kind("weekend_word"), word("after", "following"), maybe("the"), kind("day"))
def weekend_after_day(_weekend: Node, day: Node) -> object:
    return Weekend("", WeekdayNear(5, 1, day.value))


@RULES.rule("weekend before a day", "day", kind("weekend_word"), word("before"), maybe("the"), kind("day"))
def weekend_before_day(_weekend: Node, day: Node) -> object:
    return Weekend("", WeekdayNear(6, -1, day.value))


@RULES.rule(
    "nth weekend of a month",
    "day",
    kind("ordinal", "last_word"),
    kind("weekend_word"),
    word("of", "in", "de"),
    kind("month_words"),
)
def nth_weekend(nth: Node, _weekend: Node, month: Node) -> object:
    return Weekend("", _in_month(month, weekdays=(5,), nth=_nth(nth)))


@RULES.rule("weekend in a month", "day", kind("weekend_word"), word("of", "in", "de"), kind("month_words"))
def weekend_in(_weekend: Node, month: Node) -> object:
    return _in_month(month, weekdays=(5, 6))


@RULES.rule("this or next week", "day", kind("week_on"))
def week_on(week: Node) -> object:
    return Week(int(week.value)) if int(week.value) >= 0 else Offset(-7)


@RULES.rule("week of a day", "day", kind("week_word"), word("of", "del", "de"), maybe("the", "el"), kind("day"))
def week_of(_week: Node, day: Node) -> object:
    return Week(0, day.value) if isinstance(day.value, (*DATES, Holiday)) else None


@RULES.rule(
    "nth week of a month",
    "day",
    kind("ordinal", "last_word"),
    kind("week_word"),
    word("of", "in", "de"),
    kind("month_words"),
)
def nth_week(nth: Node, _week: Node, month: Node) -> object:
    number = _nth(nth)
    if not 1 <= number <= 4:
        return _in_month(month, first=-7) if number == -1 else None
    return _in_month(month, first=7 * number - 6, last=7 * number)


@RULES.rule(
    "weekday of a week or weekend",
    "day",
    kind("weekdays"),
    maybe("of", "de", "on", ","),
    maybe("the", "that"),
    kind("day"),
)
def weekday_among(weekdays: Node, day: Node) -> object:
    spans = isinstance(day.value, Week | Weekend | HolidayWeekend)
    return Among(weekdays.value, day.value) if spans else None


@RULES.rule("week, weekday", "day", kind("day"), maybe("on", ",", "el"), kind("weekdays"))
def among_weekday(day: Node, weekdays: Node) -> object:
    spans = isinstance(day.value, Week | Weekend | HolidayWeekend)
    return Among(weekdays.value, day.value) if spans else None


@RULES.rule("a day's week", "day", kind("day"), kind("week_word"))
def day_week(day: Node, _week: Node) -> object:
    return Week(0, day.value) if isinstance(day.value, Holiday) else None


@RULES.rule("week before a day", "day", kind("week_word"), word("before"), maybe("the"), kind("day"))
def week_before(_week: Node, day: Node) -> object:
    return Week(-1, day.value) if isinstance(day.value, (*DATES, Holiday)) else None


@RULES.rule("week after a day", "day", kind("week_word"), word("after"), maybe("the"), kind("day"))
def week_after(_week: Node, day: Node) -> object:
    return Week(1, day.value) if isinstance(day.value, (*DATES, Holiday)) else None


@RULES.rule("month or month", "day", kind("month_words"), word("or", "/", "-", "to", "o"), kind("month_words"))
def month_or_month(first: Node, last: Node) -> object:
    return Between(first.value, last.value)


@RULES.rule("month", "month_words", kind("month"))
def month_words(month: Node) -> object:
    return Month(int(month.value))


@RULES.rule("month and year", "month_words", kind("month"), maybe(",", "of", "de", "del"), kind("year"))
def month_year(month: Node, year: Node) -> object:
    return Month(int(month.value), *year.value)


@RULES.rule("this or next month", "month_words", kind("month_on"))
def month_on(words: Node) -> object:
    return Month(months_on=int(words.value))


@RULES.rule("part of a month", "day", kind("month_part"), maybe("-", "this", "next"), kind("month_words"))
def part_of_month(part: Node, month: Node) -> object:
    first, last = PARTS[part.value]
    return _in_month(month, first=first, last=last)


@RULES.rule("weekdays in a month", "day", kind("weekdays"), word("in", "of", "de", "en"), kind("month_words"))
def weekdays_in(weekdays: Node, month: Node) -> object:
    return _in_month(month, weekdays=weekdays.value)


@RULES.rule("saturdays in a month", "day", kind("weekday_plural"), word("in", "of", "de", "en"), kind("month_words"))
def plural_in(weekday: Node, month: Node) -> object:
    return _in_month(month, weekdays=(int(weekday.value),))


@RULES.rule(
    "nth weekday of a month",
    "day",
    kind("ordinal", "last_word"),
    kind("weekdays", "weak_weekdays"),
    maybe("of", "in", "de", "en"),
    kind("month_words"),
)
def nth_weekday(nth: Node, weekdays: Node, month: Node) -> object:
    number = _nth(nth)
    return _in_month(month, weekdays=weekdays.value, nth=number) if number <= 5 else None


@RULES.rule("month alone", "month_alone", kind("month_words"))
def month_alone(month: Node) -> object:
    return month.value


@RULES.rule(
    "month, nth weekday",
    "day",
    kind("month_words"),
    maybe(",", "-", "\n"),
    maybe("the"),
    kind("ordinal", "last_word"),
    kind("weekdays"),
)
def month_nth_weekday(month: Node, nth: Node, weekdays: Node) -> object:
    """Read "November, second Saturday"; "June 5th Saturday" is a day and its weekday."""
    number = _nth(nth)
    spelled = nth.rule in ("ordinal in words", "word")
    return _in_month(month, weekdays=weekdays.value, nth=number) if spelled and number <= 5 else None


@RULES.rule(
    "in a month",
    "day",
    word("in", "during", "en", "for", "this", "next", "of", "para", "sometime"),
    maybe("this", "mid", "late", "early", "next", "the", "in"),
    kind("month_words"),
)
def in_month(month: Node) -> object:
    return month.value


def _nth(node: Node) -> int:
    return -1 if node.kind == "last_word" else int(node.value)


def _in_month(month: Node, **what: Any) -> Month | None:
    return replace(month.value, **what) if isinstance(month.value, Month) else None
