"""Numbers, read once: digits, spelled numbers, ordinals, dozens, halves, ranges. Money, sizes, times build on them.

Nodes: ``number`` (a Fraction), ``ordinal`` (an int), ``range`` (a pair of Fractions, low first).
"""

import unicodedata
from collections.abc import Iterable, Sequence
from fractions import Fraction
from itertools import islice

from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.node import Node
from assistant.reading.tokens import NUMBER, Token

RULES = Rules()
LONGEST_NUMBER = 12
MOST_NUMBERS = 200  # a text with more is a table, no inquiry; its further numbers are left unread


def number_atoms(tokens: Sequence[Token]) -> Iterable[Node]:
    """Yield a ``number`` for each number token ("1,500", "8.5", "½"); a dotted date such as 14.8.2027 is none."""
    found = (index for index, token in enumerate(tokens) if token.kind == NUMBER)
    for index in islice(found, MOST_NUMBERS):
        token = tokens[index]
        if len(token.text) <= LONGEST_NUMBER:
            value = _value(token.text)
            if value is not None:
                yield Node("number", value, token.start, token.end, index, index + 1, "digits")


def dotted_atoms(tokens: Sequence[Token]) -> Iterable[Node]:
    """Yield a ``dotted`` triple of ints for each token such as 14.8.2027."""
    for index, token in enumerate(tokens):
        if token.kind == NUMBER and token.text.count(".") == 2 and len(token.text) <= 10:
            parts = tuple(int(part) for part in token.text.split("."))
            yield Node("dotted", parts, token.start, token.end, index, index + 1, "digits with points")


def _value(text: str) -> Fraction | None:
    if len(text) == 1 and not text.isdecimal():
        return Fraction(unicodedata.numeric(text)).limit_denominator(100)
    plain = text.replace(",", "")
    return Fraction(plain) if plain.count(".") <= 1 else None


@RULES.rule("spelled number", "number", kind("number_word"))
def spelled(name: Node) -> object:
    return Fraction(name.value)


@RULES.rule("twenty five", "number", kind("tens_word"), maybe("-", "y"), kind("number_word"))
def twenty_five(tens: Node, unit: Node) -> object:
    ones = Fraction(unit.value)
    return Fraction(tens.value) + ones if 1 <= ones <= 9 else None


@RULES.rule("tens", "number", kind("tens_word"))
def only_tens(tens: Node) -> object:
    return Fraction(tens.value)


@RULES.rule("digits with ordinal ending", "ordinal", kind("number"), kind("ordinal_ending"))
def digits_ordinal(number: Node, ending: Node) -> object:
    if number.rule != "digits" or number.end != ending.start or number.value.denominator != 1:
        return None
    return int(number.value)


@RULES.rule("ordinal in words", "ordinal", kind("ordinal_word"))
def ordinal_in_words(name: Node) -> object:
    return int(name.value)


@RULES.rule("twenty first", "ordinal", kind("tens_word"), maybe("-"), kind("ordinal_word"))
def twenty_first(tens: Node, unit: Node) -> object:
    ones = int(unit.value)
    return int(tens.value) + ones if 1 <= ones <= 9 else None


@RULES.rule("two dozen", "number", kind("number"), maybe("-"), kind("multiplier"))
def times(number: Node, multiplier: Node) -> object:
    if number.rule in ("two dozen", "a dozen") or number.value > 1000:
        return None
    return number.value * Fraction(multiplier.value)


@RULES.rule("a dozen", "number", maybe("a", "an", "una", "un"), kind("multiplier"))
def a_dozen(multiplier: Node) -> object:
    is_letter = multiplier.end - multiplier.start == 1
    return None if is_letter else Fraction(multiplier.value)


@RULES.rule("half a dozen", "number", kind("half_word"), maybe("a", "an"), kind("multiplier"))
def half_a_dozen(_half: Node, multiplier: Node) -> object:
    return Fraction(multiplier.value) / 2 if multiplier.value == "12" else None


@RULES.rule("three and a half", "number", kind("number"), word("and", "y"), maybe("a"), kind("half_word"))
def and_a_half(number: Node, _half: Node) -> object:
    return number.value + Fraction(1, 2) if number.value.denominator == 1 else None


@RULES.rule("three ½", "number", kind("number"), kind("number"))
def and_fraction(number: Node, part: Node) -> object:
    whole = number.rule == "digits" and number.value.denominator == 1
    return number.value + part.value if whole and 0 < part.value < 1 and part.end - part.start == 1 else None


@RULES.rule("3 1/2", "number", kind("number"), kind("number"), word("/"), kind("number"))
def and_slash_fraction(number: Node, top: Node, bottom: Node) -> object:
    ratio = (top.value, bottom.value)
    if number.end == top.start or ratio not in ((1, 2), (1, 4), (3, 4)):
        return None
    return number.value + Fraction(top.value, bottom.value)


@RULES.rule("low to high", "range", kind("number"), word("-", "to", "or", "a", "o", "and", "y"), kind("number"))
def low_to_high(low: Node, high: Node) -> object:
    return (low.value, high.value) if low.value < high.value else None
