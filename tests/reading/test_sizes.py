"""Sizes without a piece, and that every unit means the same length."""

from typing import Any

import pytest
from hypothesis import given as forall
from hypothesis import settings
from hypothesis import strategies as st

from assistant.reading import pieces
from tests.reading.phrases import found, given, groups, silent


@pytest.mark.parametrize(("phrase", "group"), groups("sizes"))
def test_every_phrasing_gives_the_same_size(phrase: str, group: dict[str, Any]) -> None:
    assert given(found(pieces, phrase, "size")) == group["value"]


@pytest.mark.parametrize("phrase", silent("sizes"))
def test_what_is_no_size_of_a_piece_gives_none(phrase: str) -> None:
    assert given(found(pieces, phrase, "size")) == []


@settings(max_examples=60, deadline=None)
@forall(st.integers(1, 40), st.integers(1, 40), st.sampled_from(["x", " x ", " by ", "×", " ft x ", "' x "]))
def test_width_comes_before_height(width: int, height: int, by: str) -> None:
    unit = "'" if by.startswith("'") else " ft" if "ft" in by else ""
    (size,) = given(found(pieces, f"{width}{by}{height}{unit}", "size"))
    assert size == {"width_ft": [width, width], "height_ft": [height, height]}


@settings(max_examples=60, deadline=None)
@forall(st.integers(10, 90))
def test_metres_and_centimetres_agree(decimetres: int) -> None:
    metres = f"{decimetres // 10}.{decimetres % 10}"
    assert given(found(pieces, f"{metres} m wide", "size")) == given(
        found(pieces, f"{decimetres * 10} cm wide", "size")
    )


@settings(max_examples=60, deadline=None)
@forall(st.integers(2, 40), st.integers(1, 20))
def test_a_range_keeps_its_low_and_its_high(low: int, more: int) -> None:
    (size,) = given(found(pieces, f"{low}-{low + more} ft", "size"))
    assert size == {"bare_ft": [low, low + more]}
