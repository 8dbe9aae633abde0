"""Tokens cut the client's own characters and fold beside them."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from assistant.reading.tokens import MAX_CHARACTERS, folded, tokenize

ANY_TEXT = st.text(st.characters(exclude_categories=()), max_size=200)


@given(ANY_TEXT)
def test_a_token_is_the_clients_own_characters(text: str) -> None:
    tokens = tokenize(text)
    assert all(text[token.start : token.end] == token.text for token in tokens)
    assert all(before.end <= after.start for before, after in pairwise(tokens))


def test_numbers_and_units_come_apart() -> None:
    assert folded("10ft 8x8 6' 3pm $250 10-12ft") == (
        "10", "ft", "8", "x", "8", "6", "'", "3", "pm", "$", "250", "10", "-", "12", "ft",
    )  # fmt: skip


def test_grouped_and_pointed_numbers_stay_whole() -> None:
    assert folded("1,500.00 7.30pm 14.8.2027 12,13") == ("1,500.00", "7.30", "pm", "14.8.2027", "12", ",", "13")


def test_accents_apostrophes_and_curly_quotes_fold_away() -> None:
    assert folded("Mother’s día SÁBADO don't") == ("mothers", "dia", "sabado", "dont")
    assert folded("sa\u0301bado") == ("sabado",)


def test_a_run_of_emoji_is_one_mark() -> None:
    assert folded("party 🎉🎈 now") == ("party", "*", "now")


def test_a_blank_line_is_told_from_a_line_end() -> None:
    assert [token.fold for token in tokenize("a\nb\n \nc")] == ["a", "\n", "b", "\n\n", "c"]


def test_a_text_is_read_to_its_limit_and_no_farther() -> None:
    assert tokenize("🎈" * 1_000_000) == tokenize("🎈" * MAX_CHARACTERS)
