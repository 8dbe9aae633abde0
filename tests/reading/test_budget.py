"""Budget: what the client will spend, and other numbers that are none."""

from typing import Any

import pytest
from hypothesis import given as forall
from hypothesis import settings
from hypothesis import strategies as st

from assistant.reading import budget
from tests.reading.phrases import found, given, groups, silent


@pytest.mark.parametrize(("phrase", "group"), groups("budget"))
def test_every_phrasing_gives_the_same_budget(phrase: str, group: dict[str, Any]) -> None:
    assert given(found(budget, phrase, "budget")) == [group["value"]]


@pytest.mark.parametrize("phrase", silent("budget"))
def test_what_is_no_budget_gives_none(phrase: str) -> None:
    assert given(found(budget, phrase, "budget")) == []


@settings(max_examples=60, deadline=None)
@forall(
    st.integers(50, 9000),
    st.sampled_from(["${} max", "no more than ${}", "budget is ${}", "can do {} tops", "up to £{}"]),
)
def test_an_amount_to_spend_is_a_high_end(amount: int, frame: str) -> None:
    assert given(found(budget, frame.format(amount), "budget")) == [[None, amount]]


@settings(max_examples=60, deadline=None)
@forall(
    st.integers(50, 4000),
    st.integers(1, 4000),
    st.sampled_from(["between ${} and ${}", "budget ${}-${}", "${} to ${} budget"]),
)
def test_a_range_of_money_keeps_both_ends(low: int, more: int, frame: str) -> None:
    high = min(low + more, 9 * low)
    assert given(found(budget, frame.format(low, high), "budget")) == [[low, high]]


@settings(max_examples=60, deadline=None)
@forall(
    st.integers(50, 400),
    st.sampled_from(["{} guests", "deposit is ${}", "call 202-555-0{}", "no more than {} people", "at {} Elm St"]),
)
def test_other_numbers_are_no_budget(amount: int, frame: str) -> None:
    assert given(found(budget, frame.format(amount), "budget")) == []
