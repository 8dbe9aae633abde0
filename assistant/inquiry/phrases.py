"""Finds a studio's words in a client's text: whole words in order, whatever their case, accents and punctuation."""

import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

Words = tuple[str, ...]


def folded_words(text: str) -> list[str]:
    """Return the words of ``text`` in lower case without accents; apostrophes join, all other marks part words."""
    plain = unicodedata.normalize("NFKD", text.casefold())
    kept = "".join(char for char in plain if not unicodedata.combining(char) and char not in "'’")
    return "".join(char if char.isalnum() else " " for char in kept).split()


@dataclass(frozen=True)
class _Phrase:
    name: str
    words: Words
    any_ending: bool = False
    shields: bool = False

    def stands_at(self, words: list[str], start: int) -> bool:
        """Tell whether the phrase begins at ``start``."""
        *body, last = self.words
        end = start + len(body)
        if words[start:end] != body or end >= len(words):
            return False
        return words[end].startswith(last) if self.any_ending else words[end] == last


class PhraseIndex:
    """Names and the phrases that raise them, ready to be looked up.

    A star at a phrase's end stands for any ending; a phrase that begins with ! shields its words from the others of
    its name. Phrases are kept by their first word, so a text is gone through once, however many phrases there are.
    """

    def __init__(self, phrases: Mapping[str, Iterable[str]]) -> None:
        self._by_first: dict[str, list[_Phrase]] = {}
        self._beginnings: list[_Phrase] = []
        self._names = list(phrases)
        for name, wordings in phrases.items():
            for wording in wordings:
                words = tuple(folded_words(wording))
                self._enter(_Phrase(name, words, wording.endswith("*"), wording.startswith("!")))

    def _enter(self, phrase: _Phrase) -> None:
        if len(phrase.words) == 1 and phrase.any_ending:
            self._beginnings.append(phrase)
        elif phrase.words:
            self._by_first.setdefault(phrase.words[0], []).append(phrase)

    def raised(self, text: str) -> list[str]:
        """Return the names of which any phrase stands in ``text``, in the order they were given."""
        words = folded_words(text)
        found: set[str] = set()
        shielded: dict[str, int] = {}  # by name, up to which word
        for start, word in enumerate(words):
            here = [phrase for phrase in self._by_first.get(word, ()) if phrase.stands_at(words, start)]
            here += [phrase for phrase in self._beginnings if word.startswith(phrase.words[0])]
            for phrase in here:
                if phrase.shields:
                    shielded[phrase.name] = start + len(phrase.words)
            found |= {p.name for p in here if not p.shields and shielded.get(p.name, 0) <= start}
        return [name for name in self._names if name in found]
