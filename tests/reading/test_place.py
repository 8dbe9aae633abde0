"""Place: venues, addresses, towns and codes; a kind of place alone names none."""

from typing import Any

import pytest

from assistant.reading import place
from tests.reading.phrases import found, given, groups, silent


@pytest.mark.parametrize(("phrase", "group"), groups("place"))
def test_every_phrasing_gives_the_same_place(phrase: str, group: dict[str, Any]) -> None:
    assert given(found(place, phrase, "place")) == [group["value"]]


@pytest.mark.parametrize("phrase", silent("place"))
def test_what_gives_no_(phrase: str) -> None:
    assert given(found(place, phrase, "place")) == []


def test_a_signature_or_a_registered_office_is_not_the_place() -> None:
    text = "we need an arch\n\nYours faithfully,\nPhilippa Strand\nRegistered office: 9 Quay Parade, Millport"
    assert found(place, text, "place") == []


def test_a_venue_and_an_address_said_apart_are_joined() -> None:
    (finding,) = found(place, "its at Larkspur Tea Room. the address is 12 Elm St", "place")
    assert finding.value == "Larkspur Tea Room, 12 Elm St"
    assert len(finding.spans) == 2
