"""Atoms: all meanings of a word at once, misspelt words as their own."""

import pytest

from assistant.reading.tokens import tokenize
from assistant.reading.vocabulary import Vocabulary

WORDS = {
    "mend": {"kinds": ["month"]},
    "month": {"3": ["march"], "5": ["may"], "9": ["september"]},
    "verb": {"may": ["may"]},
    "holiday": {"nye": ["new year's eve"]},
    "walk": {"walk": ["marsh"]},
}


def atoms(text: str) -> list[tuple[str, str, int]]:
    return [(node.kind, node.value, node.typo) for node in Vocabulary({"words.yaml": WORDS}).atoms(tokenize(text))]


def test_a_word_gets_all_its_meanings() -> None:
    assert atoms("may") == [("month", "5", 0), ("verb", "may", 0)]


def test_a_phrase_of_several_words_is_one_atom() -> None:
    assert atoms("New Year’s Eve") == [("holiday", "nye", 0)]


def test_a_misspelt_word_keeps_its_distance() -> None:
    assert atoms("septembr") == [("month", "9", 1)]


def test_an_exact_word_is_never_mended_to_another() -> None:
    assert atoms("marsh") == [("walk", "walk", 0)]


def test_short_words_are_not_mended() -> None:
    assert atoms("mey") == []


def test_a_phrase_that_is_too_long_is_named_with_its_place() -> None:
    with pytest.raises(ValueError, match=r"words.yaml: kind.value: .* 13 words .*: use 1 to 12"):
        Vocabulary({"words.yaml": {"kind": {"value": ["a " * 13]}}})
