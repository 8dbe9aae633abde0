"""Counts that stand apart from the piece: "centerpieces for 12 tables", "a bouquet at each of the 4 desks"."""

from assistant.reading.context import Context

MOST = 300
_EACH = {"each", "every", "per", "cada"}
_FOR = {"for", "on", "at", "to", "para", "en", "of", "by", "beside", "over", "x", "across"}
_BOTH_SIDES = {
    ("on", "each", "side"),
    ("on", "either", "side"),
    ("each", "side", "of"),
    ("either", "side", "of"),
    ("on", "both", "sides"),
    ("both", "sides", "of"),
    ("one", "each", "side"),
    ("one", "either", "side"),
}


def count_apart(context: Context, kind: str, last: int, *, plural: bool) -> int | None:
    """Return how many places a piece is wanted at, when the words after it say so."""
    _, end = context.sentence(last - 1)
    if (
        kind == "column"
        and plural
        and any(context.after(at, 3) in _BOTH_SIDES for at in range(last, min(end, last + 4)))
    ):
        return 2
    for at in range(last, min(end, last + 9)):
        number = _number_of_places(context, at)
        if number is not None and plural and context.fold(at - 1) == "," and at - last <= 2:
            return number
        if context.nodes.is_a("piece", at) or (context.fold(at) == "," and not context.nodes.is_a("number", at + 1)):
            return None
        if number is not None and (
            _each_before(context, last, at) or (plural and context.fold(at - 1) in _FOR | {"our", "the", "all"})
        ):
            return number
    return None


def _number_of_places(context: Context, at: int) -> int | None:
    """Return the number at ``at`` when tables, desks or tables' like follow it."""
    for node in context.nodes.beginning("number", at):
        after = context.nodes.beginning("owner", node.last) or context.nodes.beginning("seat", node.last)
        round_ones = context.nodes.beginning("piece_adjective", node.last) and context.nodes.is_a(
            "owner", node.last + 1
        )
        table = any(owner.value in ("table", "table_like") for owner in after) or bool(round_ones)
        if table and node.value.denominator == 1 and 1 <= node.value <= MOST:
            return int(node.value)
    return None


def _each_before(context: Context, last: int, at: int) -> bool:
    return bool(_EACH & {context.fold(index) for index in range(last, at)})
