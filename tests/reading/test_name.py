"""Name: the client signs or introduces themselves; the guest of honour does not."""

from typing import Any

import pytest

from assistant.reading import name
from tests.reading.phrases import found, given, groups, silent


@pytest.mark.parametrize(("phrase", "group"), groups("name"))
def test_every_phrasing_gives_the_same_name(phrase: str, group: dict[str, Any]) -> None:
    assert given(found(name, phrase, "name")) == [group["value"]]


@pytest.mark.parametrize("phrase", silent("name"))
def test_what_gives_no_(phrase: str) -> None:
    assert given(found(name, phrase, "name")) == []


def test_a_name_in_small_letters_gets_its_capitals() -> None:
    (finding,) = found(name, "my name is dana", "name")
    assert finding.value == "Dana"
