"""Two wishes that move the price: who takes the piece down, and how full it should be."""

from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules
from assistant.reading.layout import QUOTED, SIGNATURE

RULES = Rules()

STRIKE, DENSITY = "strike_wish", "density_wish"
STRIKE_VALUES = {"studio": True, "client": False}


def find(context: Context) -> list[Finding]:
    """Return the last wish of each kind that the text states."""
    return [*_last(context, STRIKE, "strike"), *_last(context, DENSITY, "density")]


def _last(context: Context, kind: str, key: str) -> list[Finding]:
    nodes = [node for node in context.nodes.longest(kind) if context.role(node.first) not in (SIGNATURE, QUOTED)]
    if kind == DENSITY:
        nodes = [node for node in nodes if not _names_a_colour(context, node.last)]
    if not nodes:
        return []
    node = nodes[-1]
    value = STRIKE_VALUES[node.value] if kind == STRIKE else node.value
    return [Finding(key, value, "stated", (node.span,), "words of a wish")]


def _names_a_colour(context: Context, index: int) -> bool:
    """ "light pink" and "light blue" speak of a colour, not of a light garland."""
    return any(True for _ in context.nodes.beginning("colour", index))
