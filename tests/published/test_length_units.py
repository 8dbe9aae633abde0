"""Lengths against NIST SP 811 (2008), appendix B.8: foot 0.3048 m, inch 0.0254 m, yard 0.9144 m, all exact."""

from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.loading.reading import load_reader
from assistant.reading.sizes import FEET
from assistant.rulebook import Rulebook

READER = load_reader(Rulebook())
METRES = {"ft": "0.3048", "in": "0.0254", "yd": "0.9144", "m": "1", "cm": "0.01", "mm": "0.001"}


@pytest.mark.parametrize("unit", METRES)
def test_each_unit_has_its_exact_length(unit: str) -> None:
    assert FEET[unit] * Fraction("0.3048") == Fraction(METRES[unit])


@settings(max_examples=60, deadline=None)
@given(st.integers(5, 120))
def test_metres_are_turned_into_feet_within_a_two_hundredth(decimetres: int) -> None:
    text = f"{decimetres // 10}.{decimetres % 10} m wide"
    (size,) = READER.read(text, today=date(2027, 3, 1)).of("size")
    exact = Fraction(decimetres, 10) / Fraction("0.3048")
    assert abs(Fraction(size.value["width_ft"][0]) - exact) <= Fraction(51, 10_000)
