"""Rules for the parts of dates: day numbers, years, runs of weekdays, durations.

Nodes: ``dayno`` (number, how it is written), ``days`` (day numbers, how they are joined), ``year`` (a year, or years
on from this one), ``weekdays`` and ``weak_weekdays`` (0 Monday to 6 Sunday), ``duration`` (days, only about).
"""

from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.node import Node

RULES = Rules()
DIGITS, ORDINAL, SPELLED = "digits", "ordinal", "spelled"

TO = ("-", "to", "thru", "through", "al", "a", "until", "til")
OR = ("or", "o", "u", "and", "&", "/", "y", "+", "n")


@RULES.rule("day number", "dayno", kind("number"))
def day_number(number: Node) -> object:
    if number.value.denominator != 1 or not 1 <= number.value <= 31:
        return None
    if number.rule == "digits":
        return (int(number.value), DIGITS) if number.end - number.start <= 2 else None
    return (int(number.value), SPELLED) if number.rule in ("spelled number", "twenty five", "tens") else None


@RULES.rule("day ordinal", "dayno", kind("ordinal"))
def day_ordinal(ordinal: Node) -> object:
    return (ordinal.value, ORDINAL) if 1 <= ordinal.value <= 31 else None


@RULES.rule("one day number", "days", kind("dayno"))
def one_day(day: Node) -> object:
    return ((day.value[0],), "", day.value[1])


@RULES.rule("day to day", "days", kind("dayno"), word(*TO), maybe("the", "el"), kind("dayno"))
def day_to_day(first: Node, last: Node) -> object:
    (low, how), (high, other) = first.value, last.value
    return ((low, high), "to", _how(how, other)) if low < high and SPELLED not in (how, other) else None


@RULES.rule("day or day", "days", kind("dayno"), word(*OR), maybe("the", "el"), kind("dayno"))
def day_or_day(first: Node, last: Node) -> object:
    (low, how), (high, other) = first.value, last.value
    return ((low, high), "or", _how(how, other)) if low != high and SPELLED not in (how, other) else None


@RULES.rule("day, day or day", "days", kind("dayno"), word(","), kind("dayno"), word(*OR, ","), kind("dayno"))
def day_day_or_day(first: Node, second: Node, third: Node) -> object:
    numbers = (first.value[0], second.value[0], third.value[0])
    rising = numbers[0] < numbers[1] < numbers[2]
    return (numbers, "or", _how(first.value[1], third.value[1])) if rising else None


def _how(first: str, last: str) -> str:
    """Two day numbers count as ordinals when one of them is."""
    return ORDINAL if ORDINAL in (first, last) else DIGITS


@RULES.rule("year", "year", kind("number"))
def year(number: Node) -> object:
    plain = number.rule == "digits" and number.end - number.start == 4
    return (int(number.value), None) if plain and 1990 <= number.value <= 2099 else None


@RULES.rule("year after apostrophe", "year", word("'"), kind("number"))
def short_year(number: Node) -> object:
    plain = number.rule == "digits" and number.end - number.start == 2
    return (2000 + int(number.value), None) if plain and 20 <= number.value <= 60 else None


@RULES.rule("next year", "year", kind("year_on"))
def year_on(words: Node) -> object:
    return (None, int(words.value))


@RULES.rule("weekday", "weekdays", kind("weekday"))
def one_weekday(day: Node) -> object:
    return (int(day.value),)


@RULES.rule("short weekday", "weak_weekdays", kind("weak_weekday"))
def one_weak_weekday(day: Node) -> object:
    return (int(day.value),)


@RULES.rule(
    "weekday or weekday",
    "weekdays",
    kind("weekday", "weak_weekday"),
    word(*OR),
    maybe("the", "el", "on"),
    kind("weekday", "weak_weekday"),
)
def weekday_or_weekday(first: Node, last: Node) -> object:
    return (int(first.value), int(last.value)) if first.value != last.value else None


@RULES.rule(
    "weekday to weekday", "weekdays", kind("weekday", "weak_weekday"), word(*TO), kind("weekday", "weak_weekday")
)
def weekday_to_weekday(first: Node, last: Node) -> object:
    length = (int(last.value) - int(first.value)) % 7
    return tuple((int(first.value) + n) % 7 for n in range(length + 1)) if length else None


@RULES.rule("turns so many", "day_cue", kind("turns_word"), kind("number"))
def turns(_turns: Node, age: Node) -> object:
    """A day beside "turns 5" is the birthday, not surely the party's day."""
    return "birthday" if 0 < age.value <= 110 else None


@RULES.rule("so many weeks", "duration", kind("number"), maybe("-", "full", "more"), kind("day_unit"))
def so_many(number: Node, unit: Node) -> object:
    days = number.value * int(unit.value)
    loose = unit.value == "30" or (number.rule == "spelled number" and number.length > 1)
    return (int(days), loose) if 0 < days <= 730 and days.denominator == 1 else None


@RULES.rule("a week", "duration", word("a", "an", "one", "una", "un", "1"), kind("day_unit"))
def a_week(unit: Node) -> object:
    return (int(unit.value), unit.value == "30")


@RULES.rule("a couple weeks", "duration", word("couple"), maybe("of"), kind("day_unit"))
def couple_weeks(unit: Node) -> object:
    return (2 * int(unit.value), True)


@RULES.rule("a few weeks", "duration", kind("few"), maybe("of"), kind("day_unit"))
def few_weeks(few: Node, unit: Node) -> object:
    return (int(few.value) * int(unit.value), True)
