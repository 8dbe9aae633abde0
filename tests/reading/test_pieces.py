"""Pieces: many phrasings, near-misses, and what holds whatever the number."""

from typing import Any

import pytest
from hypothesis import given as forall
from hypothesis import settings
from hypothesis import strategies as st

from assistant.reading import pieces
from tests.reading.phrases import found, given, groups, silent, taken_back

KINDS = {"garland": "length_ft", "column": "height_ft", "arch": "width_ft", "wall": "width_ft", "hoop": "width_ft"}


def in_order(listed: list[dict[str, Any]]) -> list[list[tuple[str, Any]]]:
    return sorted(sorted(piece.items()) for piece in listed)


@pytest.mark.parametrize(("phrase", "group"), groups("pieces"))
def test_every_phrasing_asks_for_the_same_pieces(phrase: str, group: dict[str, Any]) -> None:
    findings = found(pieces, phrase, "pieces")
    assert in_order(given(findings)) == in_order(group["value"])
    assert sorted(value["kind"] for value in taken_back(findings)) == sorted(group.get("out", []))


@pytest.mark.parametrize("phrase", silent("pieces"))
def test_what_is_no_piece_gives_none(phrase: str) -> None:
    assert given(found(pieces, phrase, "pieces")) == []


@settings(max_examples=60, deadline=None)
@forall(st.sampled_from(sorted(KINDS)), st.integers(2, 40))
def test_the_size_before_a_piece_is_that_pieces_own(kind: str, feet: int) -> None:
    (piece,) = given(found(pieces, f"we want a {feet} ft balloon {kind} please", "pieces"))
    assert piece == {"kind": kind, "count": 1, KINDS[kind]: [feet, feet]}


@settings(max_examples=60, deadline=None)
@forall(st.integers(2, 60), st.integers(20, 200))
def test_guests_are_not_counted_as_pieces(count: int, guests: int) -> None:
    (piece,) = given(found(pieces, f"{count} centerpieces for {guests} guests", "pieces"))
    assert piece == {"kind": "centerpiece", "count": count}


@settings(max_examples=40, deadline=None)
@forall(st.integers(1, 9999))
def test_a_number_to_be_built_has_as_many_figures_as_digits(number: int) -> None:
    (piece,) = given(found(pieces, f"a 4 ft number {number}", "pieces"))
    assert piece["count"] == len(str(number))


@settings(max_examples=40, deadline=None)
@forall(st.integers(4, 30), st.sampled_from(["table", "backdrop", "stage", "mantel", "room"]))
def test_the_size_of_a_thing_of_the_venue_is_not_the_pieces(feet: int, thing: str) -> None:
    (piece,) = given(found(pieces, f"a garland for a {feet} ft {thing}", "pieces"))
    assert piece == {"kind": "garland", "count": 1}


def test_a_piece_named_twice_is_one_piece() -> None:
    (piece,) = given(found(pieces, "Do you do garlands? The garland should be 9 ft.", "pieces"))
    assert piece == {"kind": "garland", "count": 1, "length_ft": [9, 9]}


def test_just_the_arch_lets_the_other_pieces_go() -> None:
    first, second = found(pieces, "make that just the arch, landlord wont allow columns", "pieces")
    assert (first.value["kind"], first.mode) == ("arch", "only")
    assert (second.value["kind"], second.mode) == ("column", "withdraw")
