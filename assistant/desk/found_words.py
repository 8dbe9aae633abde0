"""Finds the words of facts that come bare (colours, budget, name: the contract gives them no place in the text).

Only words that stand in the client's text exactly as in the fact are taken, so a mended typo stays unmarked.
"""

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from assistant.desk.facts import spans_of, value_of


def with_found_words(facts: Mapping[str, Any], texts: Sequence[str]) -> dict[str, Any]:
    """Return the facts with "from" for bare ones, for marking only; ``texts`` are the client's messages in order."""
    found = dict(facts)
    for name in ("colours", "budget", "name"):
        if name in facts and not spans_of(facts[name]):
            spans = [span for word in _words(value_of(facts[name])) if (span := _last(word, texts))]
            found[name] = {"status": "stated", "value": value_of(facts[name]), "from": spans}
    return found


def _words(value: Any) -> Iterator[str]:
    if isinstance(value, (list, tuple)):
        for item in value:
            yield from _words(value_of(item))
    elif isinstance(value, int) and value > 0:
        yield from (f"{value:,}", str(value))
    elif isinstance(value, str) and value.strip():
        yield value.strip()


def _last(word: str, texts: Sequence[str]) -> list[int] | None:
    """Return the word's place in the latest message that has it as a whole word."""
    whole = re.compile(rf"(?<![\w,.]){re.escape(word)}(?![\w]|[,.]\d)", re.IGNORECASE)
    for message in range(len(texts) - 1, -1, -1):
        match = whole.search(texts[message])
        if match:
            return [message, match.start(), match.end()]
    return None
