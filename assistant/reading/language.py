"""Which language a text is written in, by the everyday words that belong to one language alone."""

from collections import Counter

from assistant.reading.tokens import MAX_CHARACTERS, tokenize
from assistant.reading.vocabulary import Vocabulary

ATOM = "language"


def language_of(vocabulary: Vocabulary, text: str) -> str | None:
    """Return the language with most of its words in ``text`` ("en", "es"), or None when none is ahead."""
    atoms = vocabulary.atoms(tokenize(text[:MAX_CHARACTERS]))
    ranks = Counter(str(atom.value) for atom in atoms if atom.kind == ATOM and not atom.typo).most_common(2)
    if not ranks or (len(ranks) == 2 and ranks[0][1] == ranks[1][1]):
        return None
    return ranks[0][0]
