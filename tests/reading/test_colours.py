"""Colours: the client's words, what is ruled out, and names that are no colours."""

from typing import Any

import pytest
from hypothesis import given as forall
from hypothesis import settings
from hypothesis import strategies as st

from assistant.reading import colours
from tests.reading.phrases import found, given, groups, silent, taken_back

PLAIN = [
    "pink",
    "gold",
    "white",
    "navy",
    "teal",
    "silver",
    "blush",
    "black",
    "mint",
    "burgundy",
    "dusty rose",
    "sky blue",
]
SOME = st.lists(st.sampled_from(PLAIN), min_size=1, max_size=5, unique=True)


@pytest.mark.parametrize(("phrase", "group"), groups("colours"))
def test_every_phrasing_gives_the_same_colours(phrase: str, group: dict[str, Any]) -> None:
    findings = found(colours, phrase, "colours")
    assert given(findings) == group["value"]
    assert sorted(taken_back(findings)) == sorted(group.get("out", []))


@pytest.mark.parametrize("phrase", silent("colours"))
def test_what_is_no_colour_of_balloons_gives_none(phrase: str) -> None:
    assert given(found(colours, phrase, "colours")) == []


@settings(max_examples=80, deadline=None)
@forall(SOME, st.sampled_from([", ", " and ", " + ", " n ", " / "]), st.sampled_from([str.lower, str.upper, str.title]))
def test_colours_come_in_the_order_said_however_joined(said: list[str], join: str, case: Any) -> None:
    assert given(found(colours, "colors: " + case(join.join(said)), "colours")) == said


@settings(max_examples=60, deadline=None)
@forall(SOME)
def test_colours_after_no_are_ruled_out(said: list[str]) -> None:
    findings = found(colours, "no " + " or ".join(said), "colours")
    assert given(findings) == []
    assert taken_back(findings) == said


@settings(max_examples=40, deadline=None)
@forall(st.sampled_from(PLAIN), st.sampled_from(["St", "Avenue", "Road", "Ballroom", "Park"]))
def test_a_street_or_venue_named_after_a_colour_is_no_colour(colour: str, end: str) -> None:
    assert given(found(colours, f"the party is at the {colour.title()} {end}", "colours")) == []


def test_a_mended_typo_says_so() -> None:
    (finding,) = found(colours, "all lavendr", "colours")
    assert finding.value == "lavender"


def test_several_colours_said_anew_replace_those_before() -> None:
    modes = [
        (finding.value, finding.mode) for finding in found(colours, "changed my mind lets do navy and gold", "colours")
    ]
    assert modes == [("navy", "only"), ("gold", "give")]
