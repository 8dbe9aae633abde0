"""Which language a text is written in, by the everyday words that belong to one language alone."""

from collections import Counter

from assistant.reading.context import Context
from assistant.reading.layout import QUOTED, SIGNATURE

ATOM = "language"


def language_of(context: Context) -> str | None:
    """Return the language with most of its words in what the person says now ("en", "es"), or None if none is ahead."""
    words = (node for node in context.nodes.of(ATOM) if context.role(node.first) not in (SIGNATURE, QUOTED))
    ranks = Counter(str(node.value) for node in words).most_common(2)
    if not ranks or (len(ranks) == 2 and ranks[0][1] == ranks[1][1]):
        return None
    return ranks[0][0]
