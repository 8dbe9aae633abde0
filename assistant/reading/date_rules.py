"""Rules for dates that name a day or a month. Nodes: ``day``, its value a phrase that can be resolved (days.py)."""

from dataclasses import replace

from assistant.reading.date_parts import DIGITS, ORDINAL, SPELLED
from assistant.reading.days import MonthDay, Nth, Numeric
from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.node import Node
from assistant.reading.weeks import NthIn, NthWeekday

RULES = Rules()
LONGEST_SLASHED = 5
YEARS = range(2020, 2060)


def _month_day(days: Node, month: Node, year: Node | None = None) -> object:
    numbers, joined, how = days.value
    if how == SPELLED:
        return None
    said, on = year.value if year else (None, None)
    return MonthDay(int(month.value), numbers, joined, said, on)


@RULES.rule("month day", "day", kind("month"), maybe("the", "el", ","), kind("days"))
def month_day(month: Node, days: Node) -> object:
    return _month_day(days, month)


@RULES.rule(
    "month day year", "day", kind("month"), maybe("the", ","), kind("days"), maybe(",", "of", "in"), kind("year")
)
def month_day_year(month: Node, days: Node, year: Node) -> object:
    return _month_day(days, month, year)


@RULES.rule("day month", "day", kind("days"), maybe("of", "de", "del", "in", "/", "-"), kind("month"))
def day_month(days: Node, month: Node) -> object:
    return _month_day(days, month)


@RULES.rule(
    "day month year",
    "day",
    kind("days"),
    maybe("of", "de", "/", "-"),
    kind("month"),
    maybe(",", "de", "del", "-"),
    kind("year"),
)
def day_month_year(days: Node, month: Node, year: Node) -> object:
    return _month_day(days, month, year)


@RULES.rule("spelled day of month", "day", kind("dayno"), word("de", "of"), kind("month"))
def spelled_day(day: Node, month: Node) -> object:
    return MonthDay(int(month.value), (day.value[0],)) if day.value[1] == SPELLED else None


@RULES.rule(
    "spelled day of month, year", "day", kind("dayno"), word("de"), kind("month"), word("de", "del"), kind("year")
)
def spelled_day_year(day: Node, month: Node, year: Node) -> object:
    return MonthDay(int(month.value), (day.value[0],), "", *year.value) if day.value[1] == SPELLED else None


def _digits(*numbers: Node) -> bool:
    """Tell whether numbers are plain digits written without a space between them."""
    return all(n.rule == "digits" and n.value.denominator == 1 for n in numbers)


@RULES.rule("two numbers", "day", kind("number"), word("/"), kind("number"))
def two_numbers(first: Node, second: Node) -> object:
    glued = second.start - first.end == 1 and first.end - first.start <= 2 and second.end - second.start <= 2
    return _numeric(first, second, None) if glued and _digits(first, second) else None


@RULES.rule("three numbers", "day", kind("number"), word("/", "-"), kind("number"), word("/", "-"), kind("number"))
def three_numbers(first: Node, second: Node, third: Node) -> object:
    if not _digits(first, second, third) or second.start - first.end > 3 or third.start - second.end > 3:
        return None
    if first.end - first.start == 4:
        return _iso(int(first.value), int(second.value), int(third.value))
    return _numeric(first, second, _full_year(third))


@RULES.rule("eight digits", "day", kind("number"))
def eight_digits(number: Node) -> object:
    """Read "09182027" and "20270918"; the years keep account and phone numbers out."""
    if number.rule != "digits" or number.end - number.start != 8 or number.value.denominator != 1:
        return None
    digits = int(number.value)
    if digits // 10_000 in YEARS:
        return _iso(digits // 10_000, digits // 100 % 100, digits % 100)
    fits = digits % 10_000 in YEARS
    return Numeric(digits // 1_000_000, digits // 10_000 % 100, digits % 10_000) if fits else None


@RULES.rule("month, number on the next line", "day", kind("month"), word("\n", "\n\n"), kind("days"))
def month_next_line(month: Node, days: Node) -> object:
    return _month_day(days, month)


@RULES.rule("the nth weekday", "day", word("the"), kind("ordinal", "last_word"), kind("weekdays", "weak_weekdays"))
def the_nth_weekday(nth: Node, weekdays: Node) -> object:
    return _nth_weekday(nth, weekdays)


@RULES.rule("nth weekday alone", "loose_weekday", kind("ordinal"), kind("weekdays"))
def nth_weekday_alone(nth: Node, weekdays: Node) -> object:
    return _nth_weekday(nth, weekdays)


def _nth_weekday(nth: Node, weekdays: Node) -> object:
    number = -1 if nth.kind == "last_word" else nth.value
    return NthWeekday(weekdays.value[0], number) if number <= 5 and len(weekdays.value) == 1 else None


@RULES.rule("numbers with points", "day", kind("dotted"))
def dotted(numbers: Node) -> object:
    first, second, third = numbers.value
    if first >= 1000:
        return _iso(first, second, third)
    year = third if third >= 1000 else 2000 + third
    return Numeric(first, second, year) if 1 <= first <= 31 and 1 <= second <= 31 else None


def _full_year(number: Node) -> int | None:
    length = number.end - number.start
    return {2: 2000 + int(number.value), 4: int(number.value)}.get(length, 0)


def _numeric(first: Node, second: Node, year: int | None) -> object:
    one, two = int(first.value), int(second.value)
    if not (1 <= one <= 31 and 1 <= two <= 31) or (year is not None and not 1900 <= year <= 2099):
        return None
    return Numeric(one, two, year)


def _iso(year: int, month: int, day: int) -> object:
    fits = 1990 <= year <= 2099 and 1 <= month <= 12 and 1 <= day <= 31
    return MonthDay(month, (day,), year=year) if fits else None


@RULES.rule(
    "day month short year", "day", kind("days"), maybe("-", "/"), kind("month"), maybe("-", "/"), kind("number")
)
def day_month_short_year(days: Node, month: Node, number: Node) -> object:
    plain = number.rule == "digits" and number.end - number.start == 2
    if not plain or not 24 <= number.value <= 45 or len(days.value[0]) > 1:
        return None
    return _month_day(days, month, replace_value(number, (2000 + int(number.value), None)))


def replace_value(node: Node, value: object) -> Node:
    """Return a node with another value."""
    return node._replace(value=value)


@RULES.rule("two numbers with a dash", "dash_day", kind("number"), word("-"), kind("number"))
def dashed(first: Node, second: Node) -> object:
    glued = second.start - first.end == 1 and first.end - first.start <= 2 and second.end - second.start <= 2
    return _numeric(first, second, None) if glued and _digits(first, second) else None


@RULES.rule("two numbers and a year", "day", kind("day"), maybe(",", "of"), kind("year"))
def with_year(day: Node, year: Node) -> object:
    phrase, (said, on) = day.value, year.value
    if isinstance(phrase, MonthDay) and phrase.year is None and phrase.years_on is None:
        return replace(phrase, year=said, years_on=on)
    if isinstance(phrase, Numeric) and phrase.year is None and said:
        return replace(phrase, year=said)
    return None


def _on(day: Node, weekdays: Node) -> object:
    phrase = day.value
    if isinstance(phrase, MonthDay | Numeric | Nth | NthIn) and not phrase.weekdays:
        return replace(phrase, weekdays=weekdays.value)
    return None


@RULES.rule(
    "weekday before a date",
    "day",
    kind("weekdays", "weak_weekdays"),
    maybe(",", "the", "el", "-", "on", "."),
    kind("day"),
)
def weekday_date(weekdays: Node, day: Node) -> object:
    return _on(day, weekdays)


@RULES.rule("weekday, the date", "day", kind("weekdays", "weak_weekdays"), word(","), word("the", "on"), kind("day"))
def weekday_comma_the_date(weekdays: Node, day: Node) -> object:
    return _on(day, weekdays)


@RULES.rule(
    "this weekday, a date",
    "day",
    kind("which"),
    kind("weekdays", "weak_weekdays"),
    maybe(",", "the", "el", "-"),
    kind("day"),
)
def this_weekday_date(which: Node, weekdays: Node, day: Node) -> object:
    return _on(day, weekdays) if which.value in ("this", "next") else None


@RULES.rule("weekday after a date", "day", kind("day"), maybe(",", "(", "-", "a"), kind("weekdays", "weak_weekdays"))
def date_weekday(day: Node, weekdays: Node) -> object:
    return _on(day, weekdays)


@RULES.rule(
    "date, a weekday",
    "day",
    kind("day"),
    word(",", "(", "is", "its", "-"),
    word("a", "on", "which"),
    kind("weekdays", "weak_weekdays"),
)
def date_a_weekday(day: Node, weekdays: Node) -> object:
    return _on(day, weekdays)


@RULES.rule(
    "date which is a weekday", "day", kind("day"), word("which"), word("is"), maybe("a", "on"), kind("weekdays")
)
def date_which_is(day: Node, weekdays: Node) -> object:
    return _on(day, weekdays)


@RULES.rule("the nth", "day", word("the", "el"), kind("days"))
def the_nth(days: Node) -> object:
    numbers, joined, how = days.value
    return Nth(numbers, joined) if how == ORDINAL else None


@RULES.rule("el 14", "day", word("el", "dia"), kind("days"))
def el_day(days: Node) -> object:
    numbers, joined, how = days.value
    glued = len(numbers) > 1 and days.end - days.start <= LONGEST_SLASHED  # "el 10/4" is a day and a month
    return Nth(numbers, joined) if how == DIGITS and not glued else None


@RULES.rule("nth alone", "loose_day", kind("days"))
def nth_alone(days: Node) -> object:
    numbers, joined, how = days.value
    return Nth(numbers, joined) if how == ORDINAL else None


@RULES.rule("starred correction", "starred_day", word("*"), kind("days"))
def starred(days: Node) -> object:
    return Nth(*days.value[:2])


@RULES.rule("weekday the nth", "day", kind("weekdays", "weak_weekdays"), maybe(",", "the", "el"), kind("days"))
def weekday_nth(weekdays: Node, days: Node) -> object:
    numbers, joined, how = days.value
    return Nth(numbers, joined, weekdays.value) if how == ORDINAL else None


@RULES.rule("weekday 14", "bare_day", kind("weekdays", "weak_weekdays"), maybe("el", "dia"), kind("days"))
def weekday_number(weekdays: Node, days: Node) -> object:
    numbers, joined, how = days.value
    return Nth(numbers, joined, weekdays.value) if how == DIGITS else None


@RULES.rule("nth weekday", "day", kind("days"), maybe("("), kind("weekdays", "weak_weekdays"))
def nth_weekday(days: Node, weekdays: Node) -> object:
    numbers, joined, how = days.value
    return Nth(numbers, joined, weekdays.value) if how == ORDINAL and len(numbers) == 1 and numbers[0] > 5 else None


@RULES.rule("the nth of this month", "day", kind("days"), maybe("of"), kind("month_on"))
def nth_of_month(days: Node, month: Node) -> object:
    numbers, joined, how = days.value
    return NthIn(numbers, joined, int(month.value)) if how != SPELLED else None
