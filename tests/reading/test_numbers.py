"""The number is read once."""

from datetime import date
from fractions import Fraction

import pytest

from assistant.reading import Reader

TODAY = date(2027, 3, 10)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("12", 12), ("1,500", 1500), ("8.5", Fraction(17, 2)), ("½", Fraction(1, 2)), ("twelve", 12),
        ("twenty five", 25), ("twenty-five", 25), ("a dozen", 12), ("two dozen", 24), ("half a dozen", 6),
        ("3 1/2", Fraction(7, 2)), ("three and a half", Fraction(7, 2)), ("two hundred", 200), ("veinticinco", 25),
        ("treinta y uno", 31), ("2k", 2000), ("a grand", 1000),
    ],
)  # fmt: skip
def test_a_number_however_it_is_written(reader: Reader, text: str, value: Fraction) -> None:
    nodes = reader.context(text, today=TODAY).nodes.longest("number")
    assert nodes[0].value == value
    assert nodes[0].length == max(node.length for node in nodes)


@pytest.mark.parametrize(("text", "value"), [("14th", 14), ("22nd", 22), ("eleventh", 11), ("twenty-first", 21)])
def test_an_ordinal_however_it_is_written(reader: Reader, text: str, value: int) -> None:
    assert reader.context(text, today=TODAY).nodes.longest("ordinal")[0].value == value


@pytest.mark.parametrize(("text", "low", "high"), [("10-12", 10, 12), ("10 to 12", 10, 12), ("two or three", 2, 3)])
def test_a_range_has_its_low_end_first(reader: Reader, text: str, low: int, high: int) -> None:
    assert reader.context(text, today=TODAY).nodes.of("range")[0].value == (low, high)


def test_a_table_of_numbers_is_read_to_a_bound(reader: Reader) -> None:
    assert len(reader.context("1 " * 5000, today=TODAY).nodes.of("number")) <= 400
