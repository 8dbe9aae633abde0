"""What a word can be in the name of a place: a name, a kind of venue, a plain word, or the end of the name."""

import re
from functools import lru_cache

from assistant.reading.context import Context
from assistant.reading.node import Node
from assistant.reading.tokens import NEWLINE, NUMBER, WORD

STOP_KINDS = (
    "month",
    "weekday",
    "weak_weekday",
    "stop_word",
    "guests",
    "currency",
    "piece",
    "setting",
    "clock_half",
    "occasion",
    "at_most",
)
CONNECTORS = {
    "of",
    "the",
    "and",
    "&",
    "de",
    "la",
    "las",
    "los",
    "del",
    "el",
    "at",
    "on",
    "y",
    "du",
    "le",
    "for",
    "in",
    "'",
}
ARTICLES = {"the", "el", "la", "los", "las", "a", "un", "una", "this", "our", "my"}
_POSTCODE = re.compile(r"[A-Z]{1,2}\d[A-Z\d]? ?\d[A-Z]{2}\b")  # the shape of a British postcode (BS 7666)


def is_cased(context: Context) -> bool:
    """Tell whether capitals mean anything in this text: it has some, and it doesn't shout."""
    return _cased(context.text)


@lru_cache(maxsize=64)
def _cased(text: str) -> bool:
    letters = [c for c in text if c.isalpha()]
    return sum(c.isupper() for c in letters) < 0.6 * max(1, len(letters))


def is_capital(context: Context, at: int) -> bool:
    """Tell whether a token is a word with a meaningful capital."""
    if not 0 <= at < len(context.tokens):
        return False
    token = context.tokens[at]
    return token.kind == WORD and token.text[:1].isupper() and is_cased(context)


def is_word(context: Context, at: int) -> bool:
    """Tell whether a token is a word."""
    return 0 <= at < len(context.tokens) and context.tokens[at].kind == WORD


def is_number(context: Context, at: int) -> bool:
    """Tell whether a token is a plain whole number of at most five digits."""
    token = context.tokens[at] if 0 <= at < len(context.tokens) else None
    return token is not None and token.kind == NUMBER and token.text.isdecimal() and len(token.text) <= 5


def stops(context: Context, at: int) -> bool:
    """Tell whether a name of a place ends before this token."""
    token = context.tokens[at]
    exact = (node for kind in STOP_KINDS for node in context.nodes.beginning(kind, at) if not node.typo)
    return token.kind == NEWLINE or any(exact)


def is_plain(context: Context, at: int) -> bool:
    """Tell whether a word names nothing by itself."""
    return any(context.nodes.is_a(kind, at) for kind in ("plain_word", "relation", "piece_adjective"))


def venue_at(context: Context, at: int) -> Node | None:
    """Return the longest kind of venue that starts at a token."""
    return max(context.nodes.beginning("venue", at), key=lambda node: node.length, default=None)


def postcode_at(context: Context, at: int) -> int | None:
    """Return the token after a British postcode that starts here."""
    match = _POSTCODE.match(context.text, context.tokens[at].start) if at < len(context.tokens) else None
    if match is None:
        return None
    return next(
        (n for n in range(at, len(context.tokens)) if context.tokens[n].start >= match.end()), len(context.tokens)
    )
