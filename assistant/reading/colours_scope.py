"""How colours stand together, and how far a "no" or a "not" reaches among them."""

from collections.abc import Sequence
from itertools import pairwise

from assistant.reading.context import Context
from assistant.reading.node import Node

LINKS = {
    ",",
    "and",
    "&",
    "+",
    "/",
    "n",
    "or",
    "y",
    "o",
    "e",
    "ni",
    "nor",
    "with",
    "w",
    "-",
    "then",
    "*",
    ";",
    "plus",
    "also",
    "\n",
    "con",
    "the",
    "some",
    "maybe",
    "but",
    "mostly",
    "a",
    "lil",
    "little",
    "bit",
    "of",
    "touch",
    "hint",
    "balloons",
    "accents",
}
ALTERNATIVES = {"or", "nor", "o", "ni", "/"}
REACH = 3


def chains(context: Context, colours: Sequence[Node]) -> list[list[Node]]:
    """Return the colours grouped into lists ("black, gold and white"), in order."""
    grouped: list[list[Node]] = []
    for node in colours:
        if grouped and _linked(context, grouped[-1][-1], node):
            grouped[-1].append(node)
        else:
            grouped.append([node])
    return grouped


def between(context: Context, left: Node, right: Node) -> list[str]:
    """Return the folds that stand between two nodes."""
    return [context.fold(index) for index in range(left.last, right.first)]


def _linked(context: Context, left: Node, right: Node) -> bool:
    gap = between(context, left, right)
    return len(gap) <= REACH and all(fold in LINKS for fold in gap)


def ruled_out(context: Context, colours: Sequence[Node]) -> list[Node]:
    """Return the colours that a negative before them rules out."""
    harmless = [h for h in context.nodes.of("harmless") if h.value == "idiom"]
    out: list[Node] = []
    reach = max((node.last for node in colours), default=0)
    for negative in [n for n in context.nodes.longest("colour_negative") if n.first < reach]:
        if any(h.meets(negative) for h in harmless):
            continue
        out.extend(_reached(context, negative, colours))
    return out


def _reached(context: Context, negative: Node, colours: Sequence[Node]) -> list[Node]:
    first = next((node for node in colours if node.first >= negative.last), None)
    if first is None or not _leads_to(context, negative, first):
        return []
    chain = next(c for c in chains(context, colours) if first in c)
    rest = chain[chain.index(first) :]
    contrast = any(n.first == negative.first for n in context.nodes.of("contrast"))
    reached = [first]
    for node in rest[1:]:
        if not _goes_on(context, reached[-1], node, rest, contrast=contrast):
            break
        reached.append(node)
    return reached


def _leads_to(context: Context, negative: Node, first: Node) -> bool:
    gap = [context.fold(index) for index in range(negative.last, first.first)]
    return len(gap) <= REACH and not set(gap) & {",", ".", ";", "\n", "\n\n", "!", "?", "*", "-", "but", ":"}


def _goes_on(context: Context, left: Node, right: Node, rest: Sequence[Node], *, contrast: bool) -> bool:
    gap = between(context, left, right)
    if set(gap) & ALTERNATIVES:
        return True
    if contrast or "but" in gap:
        return False
    ends = [set(between(context, a, b)) for a, b in pairwise(rest)]
    closed = any(end & (ALTERNATIVES | {"and", "&", "y", "n"}) for end in ends[rest.index(left) :])
    return closed and bool(set(gap) & {",", "and", "&", "y", "n", "+"})


def swapped_away(context: Context, colours: Sequence[Node]) -> list[Node]:
    """Return the first colour of "change the pink to red" and "swap gold for silver"."""
    out: list[Node] = []
    for left, right in pairwise(colours):
        first, _ = context.sentence(left.first)
        change = [n for n in context.nodes.of("swap") if n.value == "change" and first <= n.first < left.first]
        becomes = any(n.value == "becomes" and left.last <= n.first < right.first for n in context.nodes.of("swap"))
        if change and becomes and left.first - change[-1].last <= 2 and right.first - left.last <= 4:
            out.append(left)
    return out
