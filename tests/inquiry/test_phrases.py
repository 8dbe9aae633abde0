"""A studio's words are found whole, in order, whatever their case, accents and punctuation."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.inquiry.phrases import PhraseIndex, folded_words

INDEX = PhraseIndex(
    {
        "refund": ["refund*", "money back"],
        "tax": ["tax"],
        "down": ["come down on the price"],
        "adios": ["hasta mañana"],
        "loss": ["!memorial day", "memorial"],
    }
)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Is it refundable?", ["refund"]),
        ("I want my MONEY - BACK!", ["refund"]),
        ("tax? and a refund", ["refund", "tax"]),
        ("by taxi", []),
        ("could you come down, on the price", ["down"]),
        ("come down on the", []),
        ("HASTA MANANA", ["adios"]),
        ("hasta man\u0303ana", ["adios"]),
        ("back money", []),
        ("memorial day", []),
        ("Memorial Day, and a memorial", ["loss"]),
        ("a memorial on Memorial Day", ["loss"]),
        ("memorial", ["loss"]),
        ("", []),
    ],
)
def test_words_are_found_whole_and_in_order(text: str, names: list[str]) -> None:
    assert INDEX.raised(text) == names


def test_apostrophes_join_and_other_marks_part() -> None:
    assert folded_words("Don’t, DON'T: wi-fi/ok") == ["dont", "dont", "wi", "fi", "ok"]


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=200), st.text(max_size=50), st.sampled_from(["money back", "come down on the price", "tax"]))
def test_a_phrase_is_found_wherever_it_stands(before: str, after: str, phrase: str) -> None:
    found = INDEX.raised(f"{before}. {phrase} .{after}")
    assert set(INDEX.raised(phrase)) <= set(found)


def test_a_hostile_length_is_gone_through_once() -> None:
    assert INDEX.raised("come down on the " * 20_000) == []
