"""Numbers and letters built of balloons: "a 4 ft number 5", "letters that spell BABY", "marquee 30".

How many figures are meant is how many digits or letters the client writes.
"""

from collections.abc import Iterable, Iterator

from assistant.reading.context import Context
from assistant.reading.layout import QUOTED, SIGNATURE
from assistant.reading.node import Node
from assistant.reading.tokens import NUMBER, WORD

MOST_DIGITS = 4
MOST = 30  # numbers or words of one text
LONGEST_WORD = 14
_FILLERS = {
    ":",
    '"',
    "'",
    "(",
    "-",
    "of",
    "for",
    "the",
    "that",
    "spell",
    "spells",
    "spelling",
    "saying",
    "say",
    "says",
    "balloon",
    "balloons",
    "out",
    "a",
    "in",
    "made",
    "like",
    "reading",
    "marquee",
    "mosaic",
    "que",
    "digan",
    "diga",
    "forming",
    "with",
    "number",
    "numbers",
    "globos",
    "de",
    "gigante",
    "gigantes",
    "to",
    "foil",
    "as",
}
_JOINS = {"&", "and", "/", ",", "y", "+"}
_AFTER_BIG = {
    "",
    "\n",
    "\n\n",
    ".",
    ",",
    "!",
    "?",
    ";",
    ")",
    "*",
    "for",
    "and",
    "with",
    "in",
    "made",
    "on",
    "next",
    "marquee",
    "balloon",
    "balloons",
    "y",
    "para",
    "too",
    "also",
    "plus",
    "&",
    "mosaic",
    "number",
    "numbers",
    "by",
    "out",
    "at",
    "if",
    "please",
    "4",
}


def figures(context: Context) -> list[Node]:
    """Return a ``figures`` node (value: the digits or letters, "" when unsaid) for each number or word to be built."""
    found: list[Node] = []
    for node in sorted([*_named(context), *_big(context)], key=lambda n: (n.first, -n.last)):
        if context.role(node.first) in (QUOTED, SIGNATURE):
            continue
        if not found or node.first >= found[-1].last:
            found.append(node)
    return found


def _named(context: Context) -> Iterator[Node]:
    blocked = context.nodes.of("made_of", "place_idiom")
    named = [n for n in context.nodes.longest("figure", "piece") if n.kind == "figure" or n.value == "marquee"]
    for node in named[:MOST]:
        if any(other.meets(node) for other in blocked):
            continue
        made = _with_what_follows(context, node) or _with_what_precedes(context, node)
        if made is not None:
            yield made


def _with_what_follows(context: Context, node: Node) -> Node | None:
    at = node.last
    while context.fold(at) in _FILLERS and at - node.last < 5:
        at += 1
    spelled, last = _digits(context, at, plural=context.fold(node.last - 1).endswith("s"))
    if not spelled and (node.value in ("letters", "marquee")):
        spelled, last = _letters(context, at)
    if not spelled:
        return None
    return _node(context, node.first, last, spelled)


def _digits(context: Context, at: int, *, plural: bool) -> tuple[str, int]:
    token = context.tokens[at] if at < len(context.tokens) else None
    if token is None or token.kind != NUMBER or not token.text.isdecimal() or len(token.text) > MOST_DIGITS:
        return "", at
    if _measured(context, at) or (context.fold(at + 1) in ("-", ":", "/") and context.fold(at + 2).isdecimal()):
        return "", at
    spelled, last = token.text, at + 1
    while plural and len(token.text) == 1:
        joined = last + (context.fold(last) in _JOINS)  # "numbers 2 and 7", "numbers 2 7"
        if not _is_digit(context, joined):
            break
        spelled, last = spelled + context.fold(joined), joined + 1
    return spelled, last


def _is_digit(context: Context, at: int) -> bool:
    fold = context.fold(at)
    return fold.isdecimal() and len(fold) == 1 and not _measured(context, at)


def _measured(context: Context, at: int) -> bool:
    """Tell whether a number is a length, an ordinal or a count of pieces, so that it is not what is built."""
    others = any(context.nodes.beginning(kind, at + 1) for kind in ("guests", "piece", "currency"))
    return others or _is_size(context, at)


def _is_size(context: Context, at: int) -> bool:
    return any(context.nodes.beginning(kind, at) for kind in ("length", "area", "sized", "ordinal"))


def _letters(context: Context, at: int) -> tuple[str, int]:
    """Read the capitals or quoted word that letters spell; several words are joined."""
    spelled, last = "", at
    while last < len(context.tokens):
        token = context.tokens[last]
        if token.kind != WORD or not _spells(context, last):
            break
        spelled, last = spelled + "".join(c for c in token.text if c.isalpha()), last + 1
    return (spelled, last) if 0 < len(spelled) <= LONGEST_WORD else ("", at)


def _spells(context: Context, at: int) -> bool:
    token = context.tokens[at]
    quoted = context.fold(at - 1) in ('"', "'") or context.fold(at + 1) in ('"', "'")
    return (token.text.isupper() and len(token.text) > 1) or quoted


def _with_what_precedes(context: Context, node: Node) -> Node | None:
    """Read "a 50 marquee", "LOVE letters", "4 marquee letters"; a lone "letters" or "number" is none."""
    before = node.first - (2 if context.fold(node.first - 1) == "in" else 1)  # "a 21 in numbers"
    token = context.tokens[before] if before >= 0 else None
    if token is not None and token.kind == NUMBER and token.text.isdecimal() and len(token.text) <= MOST_DIGITS:
        plural = context.fold(node.last - 1).endswith("s")
        figures_named = (
            context.fold(before - 1) in ("a", "an", "the", "un", "el", "giant", "big") or len(token.text) > 1
        )
        if not _is_size(context, before) and (figures_named or node.kind == "piece"):
            counted = plural and len(token.text) == 1
            return _node(context, before, node.last, "#" * int(token.text) if counted else token.text)
    if (
        token is not None
        and token.kind == WORD
        and token.text.isupper()
        and len(token.text) > 2
        and node.value != "number"
    ):
        return _node(context, before, node.last, token.text)
    return _counted(context, node) if node.kind == "piece" else None


def _counted(context: Context, node: Node) -> Node:
    """Read "two marquee letters": so many figures, not said which; or none counted."""
    for number in context.nodes.ending("number", node.first):
        if number.value.denominator == 1 and number.value <= LONGEST_WORD:
            return _node(context, number.first, node.last, "#" * int(number.value))
    return _node(context, node.first, node.last, "")


def _big(context: Context) -> Iterable[Node]:
    for big in context.nodes.longest("big_figure")[:MOST]:
        spelled, last = _digits(context, big.last, plural=False)
        determiner = context.fold(big.first - 1) in ("a", "an", "the", "un", "el", "with", "and", "plus", "+", "&", "")
        if spelled and len(spelled) <= 3 and context.fold(last) in _AFTER_BIG and determiner:
            yield _node(context, big.first, last, spelled)


def _node(context: Context, first: int, last: int, spelled: str) -> Node:
    start, end = context.tokens[first].start, context.tokens[last - 1].end
    return Node("figures", spelled, start, end, first, last, "number or letters of balloons")
