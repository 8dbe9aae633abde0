"""Lengths and sizes: feet, inches and metres as feet; one direction, or width by height.

Nodes: ``length`` (low, high in feet), ``sized`` (direction, low, high) and ``area`` (a pair of sized sides).
Whose size it is, the piece's or the table's, is decided in pieces.py.
"""

from dataclasses import dataclass
from fractions import Fraction

from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.node import Node

RULES = Rules()

# NIST SP 811 (2008), appendix B.8: 1 ft = 0.3048 m, 1 in = 0.0254 m and 1 yd = 0.9144 m, all exact.
METRES_A_FOOT = Fraction(3048, 10000)
FEET = {
    "ft": Fraction(1),
    "in": Fraction(1, 12),
    "yd": Fraction(3),
    "m": 1 / METRES_A_FOOT,
    "cm": Fraction(1, 100) / METRES_A_FOOT,
    "mm": Fraction(1, 1000) / METRES_A_FOOT,
}
LONGEST = 300  # feet; more is no size of a decoration (common practice, no source)
LARGEST_BARE_SIDE = 60  # "8x10" without a unit (common practice, no source)


@dataclass(frozen=True, slots=True)
class Side:
    """One measured direction ("width", "height", "length" or "" when unsaid), from low to high feet."""

    direction: str
    low: Fraction
    high: Fraction
    unit: str = "ft"

    def feet(self) -> list[float]:
        """Return low and high feet, rounded to a hundredth, as facts carry them."""
        return [round(float(self.low), 2), round(float(self.high), 2)]


def _bounds(amount: Node) -> tuple[Fraction, Fraction]:
    return amount.value if amount.kind == "range" else (amount.value, amount.value)


def _side(amount: Node, unit: str) -> Side | None:
    low, high = (value * FEET[unit] for value in _bounds(amount))
    return Side("", low, high, unit) if low > 0 and high <= LONGEST else None


@RULES.rule("number of a unit", "length", kind("number", "range"), maybe("-"), kind("unit"))
def number_of_unit(amount: Node, unit: Node) -> object:
    """Read "10 ft", "10-12ft", "15-foot", "3 metre"; "in" and quote marks alone are too weak for inches."""
    weak = unit.end - unit.start == 1 and unit.value != "m" and amount.end != unit.start
    if weak or unit.value == "in":
        return None
    return _side(amount, unit.value)


@RULES.rule("number of inches", "length", kind("number", "range"), maybe("-"), kind("inch_word"))
def number_of_inches(amount: Node, _unit: Node) -> object:
    return _side(amount, "in")


@RULES.rule("inches that are measured", "sized", kind("number", "range"), kind("unit"), kind("dimension"))
def inches_measured(amount: Node, unit: Node, dimension: Node) -> object:
    side = _side(amount, "in") if unit.value == "in" else None
    return side and Side(dimension.value, side.low, side.high, "in")


@RULES.rule("feet and inches", "length", kind("length"), maybe("and"), kind("number"), kind("unit", "inch_word"))
def feet_and_inches(feet: Node, amount: Node, unit: Node) -> object:
    whole = feet.value.unit == "ft" and feet.value.low == feet.value.high and feet.value.low.denominator == 1
    if not whole or amount.value >= 12 or (unit.kind == "unit" and unit.value != "in"):
        return None
    total = feet.value.low + amount.value / 12
    return Side("", total, total)


@RULES.rule("length to length", "length", kind("length"), maybe("-", "to", "or", "a", "o"), kind("length"))
def length_to_length(low: Node, high: Node) -> object:
    near = low.value.low < high.value.high <= 3 * low.value.low and high.first > low.last
    return Side("", low.value.low, high.value.high, high.value.unit) if near else None


@RULES.rule("length maybe number", "length", kind("length"), word("maybe", "or", "possibly", "to", "-"), kind("number"))
def length_maybe_number(low: Node, high: Node) -> object:
    """Read "8 foot maybe 9" and "10 ft or 12"."""
    side = _side(high, low.value.unit)
    near = side is not None and low.value.low < side.high <= 2 * low.value.low
    return Side("", low.value.low, side.high, side.unit) if side is not None and near else None


@RULES.rule("length and direction", "sized", kind("length"), maybe("in"), kind("dimension"))
def length_and_direction(length: Node, dimension: Node) -> object:
    return Side(dimension.value, length.value.low, length.value.high, length.value.unit)


@RULES.rule("direction and length", "sized", kind("dimension"), maybe(":", "is", "of", "=", "about"), kind("length"))
def direction_and_length(dimension: Node, length: Node) -> object:
    """Read "width: 12 ft"; a dimension that already belongs to the length before it is sorted out by the reader."""
    return Side(dimension.value, length.value.low, length.value.high, length.value.unit)


@RULES.rule("bare number and direction", "sized", kind("number", "range"), kind("dimension"))
def bare_and_direction(amount: Node, dimension: Node) -> object:
    side = _side(amount, "ft")
    if side is None or side.high > LARGEST_BARE_SIDE or dimension.end - dimension.start < 3:
        return None
    return Side(dimension.value, side.low, side.high)


@RULES.rule("width by height", "area", kind("length", "sized"), maybe(","), kind("by"), kind("length", "sized"))
def width_by_height(first: Node, _by: Node, second: Node) -> object:
    return _area(first.value, second.value)


@RULES.rule("number by length", "area", kind("number"), kind("by"), kind("length", "sized"))
def number_by_length(number: Node, _by: Node, second: Node) -> object:
    side = _side(number, second.value.unit)
    return side and _area(side, second.value)


@RULES.rule("length by number", "area", kind("length", "sized"), kind("by"), kind("number"))
def length_by_number(first: Node, _by: Node, number: Node) -> object:
    side = _side(number, first.value.unit)
    return side and _area(first.value, side)


@RULES.rule("number by number", "area", kind("number"), kind("by"), kind("number"))
def number_by_number(first: Node, _by: Node, second: Node) -> object:
    """Read "8x8" and "8 by 8"; "10 x 2" with spaces and a small count is a count's business, not a size's."""
    if not 1 <= first.value <= LARGEST_BARE_SIDE or not 1 <= second.value <= LARGEST_BARE_SIDE:
        return None
    one, other = _side(first, "ft"), _side(second, "ft")
    return one and other and _area(one, other)


@RULES.rule("direction and direction", "area", kind("sized"), maybe(",", "and", "&", "y", "/"), kind("sized"))
def two_directions(first: Node, second: Node) -> object:
    one, other = first.value.direction, second.value.direction
    return _area(first.value, second.value) if one != other else None


def _area(first: Side, second: Side) -> object:
    """Name the unsaid sides: width comes first, then height."""
    one = first.direction or ("height" if second.direction in ("width", "length") else "width")
    other = second.direction or ("width" if one in ("height", "length") else "height")
    if one == other:
        return None
    return (Side(one, first.low, first.high, first.unit), Side(other, second.low, second.high, second.unit))
