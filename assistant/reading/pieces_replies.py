"""Short replies that name no piece: "make it 12", "12 of them", "10 or 12 should do"."""

from collections.abc import Sequence

from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.node import Node
from assistant.reading.pieces_nouns import Noun

LONGEST_REPLY = 9  # words; a longer text says what its numbers count
LARGEST_BARE = 60


def bare_replies(context: Context, nouns: Sequence[Noun], loose: Sequence[Finding]) -> list[Finding]:
    """Return the count or the bare size that a short reply gives; merging finds the piece it speaks of."""
    numbers = [n for n in context.nodes.longest("number", "range") if not _belongs_elsewhere(context, n)]
    of_them = [n for n in numbers if n.kind == "number" and _counts_things(context, n)]
    if of_them:
        return [Finding("count", {"count": int(of_them[0].value)}, spans=(of_them[0].span,), rule="a count of them")]
    if nouns or loose or len(context.tokens) > LONGEST_REPLY or len(numbers) != 1:
        return []
    node = numbers[0]
    if _is_made(context, node):
        low, high = node.value if node.kind == "range" else (node.value, node.value)
        value = {"bare_ft": [float(low), float(high)]}
        return [Finding("size", value, "inferred", (node.span,), "a bare number in a short reply")]
    return []


def _belongs_elsewhere(context: Context, node: Node) -> bool:
    kinds = ("ordinal", "length", "area", "sized", "money", "day", "clock", "date", "time")
    inside = any(other.covers(node) and other is not node for other in context.nodes.of(*kinds))
    words = ("guests", "currency", "month", "clock_half", "ordinal_ending", "thousand", "dimension", "street", "age")
    after = any(context.nodes.beginning(kind, node.last) for kind in words)
    before = any(
        context.nodes.ending(kind, node.first) for kind in ("currency", "month", "weekday", "figure", "at_most")
    )
    largest = node.value[1] if node.kind == "range" else node.value
    return inside or after or before or not 1 <= largest <= LARGEST_BARE


def _counts_things(context: Context, node: Node) -> bool:
    return (
        context.after(node.last, 2) in (("of", "them"), ("of", "those"), ("of", "these"))
        and node.value.denominator == 1
    )


def _is_made(context: Context, node: Node) -> bool:
    lead = context.before(node.first, 2)
    return lead in (("make", "it"), ("make", "that"), ("do", "it")) or lead[-1:] in (("hazlo",), ("haganlo",))
