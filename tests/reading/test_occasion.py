"""Occasion: what is celebrated, the most special word first."""

from typing import Any

import pytest

from assistant.reading import occasion
from tests.reading.phrases import found, given, groups, silent


@pytest.mark.parametrize(("phrase", "group"), groups("occasion"))
def test_every_phrasing_gives_the_same_occasion(phrase: str, group: dict[str, Any]) -> None:
    assert given(found(occasion, phrase, "occasion")) == [group["value"]]


@pytest.mark.parametrize("phrase", silent("occasion"))
def test_what_gives_no_(phrase: str) -> None:
    assert given(found(occasion, phrase, "occasion")) == []


@pytest.mark.parametrize("general", ["birthday party", "she turns 15", "on Halloween", "party"])
def test_the_more_special_occasion_wins(general: str) -> None:
    assert given(found(occasion, f"{general}, a quinceanera", "occasion")) == ["quinceanera"]


def test_an_age_alone_only_suggests_a_birthday() -> None:
    (finding,) = found(occasion, "my daughter turns 5", "occasion")
    assert finding.status == "inferred"
