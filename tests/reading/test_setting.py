"""Setting: said, implied by a venue, or contradictory."""

from typing import Any

import pytest

from assistant.reading import setting
from tests.reading.phrases import found, given, groups, silent


@pytest.mark.parametrize(("phrase", "group"), groups("setting"))
def test_every_phrasing_gives_the_same_setting(phrase: str, group: dict[str, Any]) -> None:
    assert given(found(setting, phrase, "setting")) == [group["value"]]


@pytest.mark.parametrize("phrase", silent("setting"))
def test_what_says_no_setting_gives_none(phrase: str) -> None:
    assert [value for value in given(found(setting, phrase, "setting")) if value != "unclear"] == []


def test_what_is_said_is_stated_and_what_a_venue_implies_is_inferred() -> None:
    (said,) = found(setting, "it will be indoors", "setting")
    (implied,) = found(setting, "at the library", "setting")
    assert (said.status, implied.status) == ("stated", "inferred")


def test_two_settings_are_offered_as_options() -> None:
    (finding,) = found(setting, "indoor or outdoor, not sure yet", "setting")
    assert (finding.value, finding.options) == (None, ("indoor", "outdoor"))
