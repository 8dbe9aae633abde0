"""The words of rules/words: every atom that a token, or several tokens, can be; several at once are fine.

A word that is in no list and looks like a listed one becomes an atom of its own, its distance kept in ``typo``: only
for the kinds that a word file names under ``mend``, only for words of five letters or more, never beside an exact word.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from rapidfuzz.distance import OSA

from assistant.reading.node import Node
from assistant.reading.tokens import WORD, Token, fold_word, folded

WordFile = dict[str, dict[str, list[str]]]
MEND = "mend"
SHORTEST_MENDED = 5
MOST_MENDED = 300
LONGEST_PHRASE = 12


@dataclass(frozen=True, slots=True)
class Entry:
    """One phrase of a word file: its folds, and what it means."""

    folds: tuple[str, ...]
    kind: str
    value: str


class Vocabulary:
    """All word files of all languages together."""

    def __init__(self, files: Mapping[str, WordFile]) -> None:
        self._single: defaultdict[str, list[Entry]] = defaultdict(list)
        self._longer: defaultdict[tuple[str, str], list[Entry]] = defaultdict(list)  # by their first two folds
        self._words: set[str] = set()
        self._mended_kinds: set[str] = set()
        for name, kinds in files.items():
            self._take(name, kinds)
        self._mendable = self._index_mendable()

    def _take(self, name: str, kinds: WordFile) -> None:
        for kind, values in kinds.items():
            if kind == MEND:
                self._mended_kinds.update(word for words in values.values() for word in words)
                continue
            for value, phrases in values.items():
                for phrase in phrases:
                    self._enter(name, kind, value, folded(phrase))

    def _enter(self, name: str, kind: str, value: str, folds: tuple[str, ...]) -> None:
        if not 1 <= len(folds) <= LONGEST_PHRASE:
            phrase = " ".join(folds)
            what = f"{kind}.{value}: {phrase!r} is {len(folds)} words and marks long"
            raise ValueError(f"{name}: {what}: use 1 to {LONGEST_PHRASE}")
        entry = Entry(folds, kind, value)
        known = self._single[folds[0]] if len(folds) == 1 else self._longer[folds[0], folds[1]]
        if entry not in known:
            known.append(entry)
        self._words.update(folds)

    def _index_mendable(self) -> dict[tuple[str, int], list[Entry]]:
        index: defaultdict[tuple[str, int], list[Entry]] = defaultdict(list)
        for word, entries in self._single.items():
            for entry in entries if len(word) >= SHORTEST_MENDED else ():
                if entry.kind in self._mended_kinds:
                    index[word[0], len(word)].append(entry)
        return dict(index)

    def knows(self, word: str) -> bool:
        """Tell whether a word stands in any list, in any form."""
        return fold_word(word) in self._words

    def atoms(self, tokens: Sequence[Token]) -> list[Node]:
        """Return every atom of every token, exact words first, mended ones where no exact word is."""
        folds = tuple(token.fold for token in tokens)
        found: list[Node] = []
        unknown: list[int] = []
        for index, token in enumerate(tokens):
            entries = self._entries(folds, index)
            for entry in entries:
                last = index + len(entry.folds)
                end = tokens[last - 1].end
                found.append(Node(entry.kind, entry.value, token.start, end, index, last, "word"))
            if not entries and self._is_unknown(token):
                unknown.append(index)
        for index in unknown[:MOST_MENDED]:
            found.extend(self._mended(tokens[index], index))
        return found

    def _is_unknown(self, token: Token) -> bool:
        """Tell whether a token is a word, long enough to be mended, that stands in no list."""
        return token.kind == WORD and len(token.fold) >= SHORTEST_MENDED and token.fold not in self._words

    def _entries(self, folds: tuple[str, ...], index: int) -> list[Entry]:
        """Return the entries whose folds stand at ``index``."""
        first = folds[index]
        single = self._single.get(first, [])
        if index + 1 == len(folds):
            return single
        longer = self._longer.get((first, folds[index + 1]))
        if not longer:
            return single
        return single + [entry for entry in longer if folds[index : index + len(entry.folds)] == entry.folds]

    def _mended(self, token: Token, index: int) -> Iterable[Node]:
        word = token.fold
        reach = 1 if len(word) < 8 else 2
        for length in range(len(word) - reach, len(word) + reach + 1):
            for entry in self._mendable.get((word[0], length), ()):
                distance = OSA.distance(word, entry.folds[0], score_cutoff=reach)
                if distance <= reach:
                    yield Node(
                        entry.kind, entry.value, token.start, token.end, index, index + 1, "mended word", (), distance
                    )
