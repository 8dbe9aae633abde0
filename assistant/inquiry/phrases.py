"""Finds a studio's words in a client's text: whole words in order, whatever their case, accents and punctuation."""

import unicodedata
from collections.abc import Iterable, Mapping
from functools import lru_cache


def folded_words(text: str) -> list[str]:
    """Return the words of ``text`` in lower case without accents; apostrophes join, all other marks part words."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    kept = "".join(char for char in plain if not unicodedata.combining(char) and char not in "'’")
    return "".join(char if char.isalnum() else " " for char in kept).split()


def holds(words: list[str], phrase: str) -> bool:
    """Tell whether ``phrase`` stands in ``words`` (see folded_words); a star at its end stands for any ending."""
    wanted = _phrase_words(phrase)
    if not wanted:
        return False
    return any(_stands_at(words, start, wanted, phrase.endswith("*")) for start in range(len(words) - len(wanted) + 1))


def raised(text: str, phrases: Mapping[str, Iterable[str]]) -> list[str]:
    """Return the names under which any phrase stands in ``text``, in the order of ``phrases``."""
    words = folded_words(text)
    return [name for name, wordings in phrases.items() if any(holds(words, wording) for wording in wordings)]


@lru_cache(maxsize=4096)
def _phrase_words(phrase: str) -> tuple[str, ...]:
    return tuple(folded_words(phrase))


def _stands_at(words: list[str], start: int, wanted: tuple[str, ...], any_ending: bool) -> bool:
    *body, last = wanted
    found = words[start + len(body)]
    if words[start : start + len(body)] != body:
        return False
    return found.startswith(last) if any_ending else found == last
