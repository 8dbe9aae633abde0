"""Rules for days told from another: so many days from it, beside it, about it, from one to another; and holidays."""

from dataclasses import replace

from assistant.reading.days import MonthDay, Nth, Numeric
from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.holidays import Holiday
from assistant.reading.node import Node
from assistant.reading.weeks import Between, Offset, Weekday, WeekdayAbout, WeekdayNear

RULES = Rules()
DATES = (MonthDay, Nth, Numeric)
SATURDAY = 5


@RULES.rule("today or tomorrow", "day", kind("day_offset"))
def day_offset(offset: Node) -> object:
    return Offset(int(offset.value))


@RULES.rule("in so many days", "day", word("in", "en", "within"), kind("duration"))
def in_days(duration: Node) -> object:
    days, about = duration.value
    return Offset(days, None, about)


@RULES.rule(
    "in about so many days",
    "day",
    word("in", "en"),
    word("about", "around", "roughly", "approx", "like", "maybe", "unas", "unos"),
    kind("duration"),
)
def in_about_days(duration: Node) -> object:
    return Offset(duration.value[0], None, True)


@RULES.rule(
    "in so many weeks on a weekday",
    "day",
    word("in", "en"),
    kind("duration"),
    maybe(","),
    word("on", "un", "el"),
    maybe("a", "the", "that"),
    kind("weekdays", "weak_weekdays"),
)
def in_weeks_on(duration: Node, weekdays: Node) -> object:
    return _on_weekday_about(duration, weekdays)


@RULES.rule("so many weeks from now on a weekday", "day", kind("day"), word("on"), maybe("a"), kind("weekdays"))
def from_now_on(day: Node, weekdays: Node) -> object:
    counted = isinstance(day.value, Offset) and day.value.base is None and day.value.days >= 7
    return WeekdayAbout(weekdays.value[0], day.value) if counted and len(weekdays.value) == 1 else None


def _on_weekday_about(duration: Node, weekdays: Node) -> object:
    days = duration.value[0]
    return WeekdayAbout(weekdays.value[0], Offset(days)) if days >= 7 and len(weekdays.value) == 1 else None


@RULES.rule("two saturdays from now", "day", kind("number"), kind("weekday_plural"), word("from"), word("now", "today"))
def saturdays_from_now(number: Node, weekday: Node) -> object:
    whole = number.value.denominator == 1 and 1 <= number.value <= 12
    return Weekday((int(weekday.value),), "", int(number.value) - 1) if whole else None


@RULES.rule("dentro de", "day", word("dentro"), word("de"), kind("duration"))
def within_days(duration: Node) -> object:
    days, about = duration.value
    return Offset(days, None, about)


@RULES.rule(
    "so many days from a day",
    "day",
    kind("duration"),
    word("from", "after", "past", "despues", "on"),
    maybe("de", "del"),
    kind("day"),
)
def days_from(duration: Node, day: Node) -> object:
    return Offset(duration.value[0], day.value, duration.value[1])


@RULES.rule(
    "so many days before a day",
    "day",
    kind("duration"),
    word("before", "antes"),
    maybe("de", "del", "the"),
    kind("day"),
)
def days_before(duration: Node, day: Node) -> object:
    return Offset(-duration.value[0], day.value, duration.value[1])


@RULES.rule(
    "moved up so many days from a day",
    "day",
    kind("day_shift_way"),
    kind("duration"),
    word("from"),
    maybe("the"),
    kind("day"),
)
def moved_from(way: Node, duration: Node, day: Node) -> object:
    return Offset(int(way.value) * duration.value[0], day.value) if isinstance(day.value, (*DATES, Holiday)) else None


@RULES.rule("so many days from now", "day", kind("duration"), word("from"), word("now"))
def days_from_now(duration: Node) -> object:
    return Offset(duration.value[0], None, duration.value[1])


@RULES.rule("so many days ago", "day", kind("duration"), word("ago", "back"))
def days_ago(duration: Node) -> object:
    return Offset(-duration.value[0])


@RULES.rule(
    "the day after",
    "day",
    word("day", "dia", "night"),
    word("after", "despues", "following"),
    maybe("de", "del", "the"),
    kind("day"),
)
def day_after(day: Node) -> object:
    return Offset(1, day.value)


@RULES.rule(
    "the day before",
    "day",
    word("day", "dia", "night"),
    word("before", "antes"),
    maybe("de", "del", "the"),
    kind("day"),
)
def day_before(day: Node) -> object:
    return Offset(-1, day.value)


@RULES.rule(
    "weekday after a day",
    "day",
    kind("weekdays", "weak_weekdays"),
    word("after", "following", "despues"),
    maybe("the", "de", "del"),
    kind("day"),
)
def weekday_after_day(weekdays: Node, day: Node) -> object:
    return WeekdayNear(weekdays.value[0], 1, day.value) if len(weekdays.value) == 1 else None


@RULES.rule(
    "weekday before a day",
    "day",
    kind("weekdays", "weak_weekdays"),
    word("before", "antes"),
    maybe("the", "de", "del"),
    kind("day"),
)
def weekday_before_day(weekdays: Node, day: Node) -> object:
    return WeekdayNear(weekdays.value[0], -1, day.value) if len(weekdays.value) == 1 else None


@RULES.rule("holiday", "day", kind("holiday"))
def holiday(name: Node) -> object:
    return Holiday(name.value)


@RULES.rule("holiday and year", "day", kind("holiday"), maybe(","), kind("year"))
def holiday_year(name: Node, year: Node) -> object:
    said, on = year.value
    return Holiday(name.value, year=said, years_on=on)


@RULES.rule("about a day", "day", kind("approximately"), maybe("the"), kind("day"))
def about_day(_about: Node, day: Node) -> object:
    return Offset(0, day.value, True) if isinstance(day.value, (*DATES, Holiday)) else None


@RULES.rule("a day-ish", "day", kind("day"), kind("approximately_after"))
def day_ish(day: Node, about: Node) -> object:
    return Offset(0, day.value, True) if isinstance(day.value, DATES) and about.length <= 2 else None


@RULES.rule(
    "from a day to a day",
    "day",
    kind("day"),
    word("-", "to", "through", "thru", "al", "until"),
    maybe("the", "el"),
    kind("day"),
)
def from_to(first: Node, last: Node) -> object:
    both = isinstance(first.value, MonthDay | Numeric) and isinstance(last.value, MonthDay | Numeric)
    return Between(first.value, last.value) if both else None


@RULES.rule("the day beside", "beside_day", word("the"), word("day", "night"), kind("beside_way"))
def day_beside(way: Node) -> object:
    return (None, int(way.value))


@RULES.rule("the weekday beside", "beside_day", word("the"), kind("weekdays"), kind("beside_way"))
def weekday_beside(weekdays: Node, way: Node) -> object:
    return (weekdays.value[0], int(way.value))


@RULES.rule("the weekend beside", "beside_day", word("the"), kind("weekend_word"), kind("beside_way"))
def weekend_beside(_weekend: Node, way: Node) -> object:
    return (SATURDAY, int(way.value))


@RULES.rule("the following weekday", "beside_day", kind("follow_word"), kind("weekdays", "weak_weekdays"))
def following_weekday(_word: Node, weekdays: Node) -> object:
    return (weekdays.value[0], 1)


@RULES.rule("not this weekday but next", "day", word("not"), kind("day"), word("but"), word("next"))
def not_this_but_next(day: Node) -> object:
    return _the_next(day)


@RULES.rule("not this weekday but the next", "day", word("not"), kind("day"), word("but"), word("the"), word("next"))
def not_this_but_the_next(day: Node) -> object:
    return _the_next(day)


@RULES.rule("but the one after", "day", word("not"), kind("day"), word("but"), word("the"), word("one"), word("after"))
def not_this_but_the_one_after(day: Node) -> object:
    return _the_next(day)


@RULES.rule("no, the other", "day", kind("day"), maybe(","), word("no"), maybe(","), word("el"), word("otro"))
def no_the_other(day: Node) -> object:
    return _the_next(day)


def _the_next(day: Node) -> object:
    this = isinstance(day.value, Weekday) and day.value.which == "this"
    return replace(day.value, weeks_on=1) if this else None


@RULES.rule("between two days", "day", word("between", "entre"), maybe("the", "el"), kind("day"))
def between(day: Node) -> object:
    either = isinstance(day.value, MonthDay | Nth) and day.value.joined == "or"
    return replace(day.value, joined="to") if either else None


@RULES.rule("between days", "day", word("between", "entre"), kind("day"), word("and", "y"), maybe("the"), kind("day"))
def between_days(first: Node, last: Node) -> object:
    both = isinstance(first.value, MonthDay | Numeric) and isinstance(last.value, MonthDay | Numeric)
    return Between(first.value, last.value) if both else None
