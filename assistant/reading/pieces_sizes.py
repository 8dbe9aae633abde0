"""Whose size it is: the piece's own, or that of the table, the room or the stand beside it."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from assistant.reading.context import Context
from assistant.reading.layout import QUOTED, SIGNATURE
from assistant.reading.node import Node
from assistant.reading.pieces_nouns import SIZE_KINDS, Noun, phrase_start
from assistant.reading.sizes import Side

UNSAID = {  # the direction of a size that names none (common practice, no source)
    "garland": "length",
    "arch": "width",
    "column": "height",
    "wall": "width",
    "hoop": "width",
    "bouquet": "height",
    "centerpiece": "height",
    "ceiling": "length",
    "marquee": "height",
    "drop": "width",
}
ONE_WAY = {"garland": "length", "column": "height", "marquee": "height", "centerpiece": "height", "bouquet": "height"}
MOST_SIZES = 60  # of one text
NEAREST = 10  # words from a size to the thing that it measures
SMALLEST_FEET = {"garland": 2, "arch": 2, "wall": 2, "column": 1, "hoop": 1}  # below, inches are of a balloon
LINKS = {
    "is",
    "are",
    "thats",
    "that",
    "which",
    "measures",
    "measuring",
    "its",
    "mide",
    "es",
    "de",
    "(",
    ":",
    "=",
    "of",
    "will",
    "be",
}
HEDGES = {
    "about",
    "maybe",
    "around",
    "roughly",
    "approx",
    "approximately",
    "like",
    "say",
    "probably",
    "thinking",
    "-",
    ",",
    "abt",
    "~",
    "como",
}
TELLS = {"is", "are", "its", "thats", "which", "measures", "mide"}
RUNS_OVER = {
    "across",
    "along",
    "over",
    "down",
    "up",
    "around",
    "on",
    "behind",
    "above",
}  # "a garland across the stage 15 ft"
PEOPLE = {"hes", "shes", "im", "he", "she", "were", "theyre"}
AWAY = {"from", "away", "off", "apart", "between", "clearance", "above", "of"}


@dataclass(frozen=True)
class Sized:
    """The size nodes that belong to each noun, and those that belong to no piece of this text."""

    of: dict[int, list[Node]] = field(default_factory=dict)
    loose: list[Node] = field(default_factory=list)


def own_sizes(context: Context, nouns: Sequence[Noun]) -> Sized:
    """Give each size of the text to the piece that it measures."""
    owners = _owners(context, nouns)
    sized = Sized()
    for node in size_nodes(context):
        if _measures_no_piece(context, node):
            continue
        number = _piece_of(context, node, nouns, owners)
        if number is not None:
            sized.of.setdefault(number, []).append(node)
        elif not nouns and not _is_a_things(context, node, owners):
            sized.loose.append(node)
    return sized


def size_nodes(context: Context) -> list[Node]:
    """Return the sizes of the text, none sharing a word: a width by a height first, then the longest."""
    ranked = sorted(context.nodes.of(*SIZE_KINDS), key=_rank)
    chosen: list[Node] = []
    for node in ranked:
        if not any(node.meets(other) for other in chosen) and context.role(node.first) not in (QUOTED, SIGNATURE):
            chosen.append(node)
        if len(chosen) >= MOST_SIZES:
            break
    return sorted(chosen, key=lambda node: node.first)


def _rank(node: Node) -> tuple[int, int, int, int]:
    joined = node.kind == "area" and node.rule != "direction and direction"
    reversed_order = node.rule == "direction and length"
    return (0 if joined else 1, 0 if node.kind == "area" else 1, 1 if reversed_order else 0, -node.length)


def _owners(context: Context, nouns: Sequence[Noun]) -> list[Node]:
    """Return the things that are no piece and may own a size."""
    own = context.nodes.longest("owner", "bare_piece", "made_of")
    return [node for node in own if not any(node.meets(noun.node) for noun in nouns)]


def _is_a_things(context: Context, node: Node, owners: Sequence[Node]) -> bool:
    """Tell whether a size belongs to the thing right after it or to the thing before it ("the table is 8 ft")."""
    near = [owner for owner in owners if node.first < owner.last <= node.last + NEAREST]
    if any(phrase_start(context, owner.first) <= node.first for owner in near):
        return True
    first, _ = context.sentence(node.first)
    before = [owner for owner in owners if first <= owner.first and owner.last <= node.first]
    return bool(before) and _owns(context, before[-1], node)


def _measures_no_piece(context: Context, node: Node) -> bool:
    after = context.fold(node.last)
    away = after in AWAY and not (after == "of" and context.nodes.is_a("piece", node.last + 1))
    of_balloons = after == "of" and any(context.nodes.is_a("balloon", node.last + n) for n in (1, 2))
    return (away and not of_balloons) or bool(PEOPLE & set(context.before(node.first, 2)))


def _piece_of(context: Context, node: Node, nouns: Sequence[Noun], owners: Sequence[Node]) -> int | None:
    for number, noun in enumerate(nouns):
        if noun.start <= node.first < noun.last or _is_of(context, node, noun):
            return number
    near = [owner for owner in owners if node.first < owner.last <= node.last + NEAREST]
    if any(phrase_start(context, owner.first) <= node.first for owner in near):
        return None
    first, last = context.sentence(node.first)
    owner = max((o for o in owners if first <= o.first and o.last <= node.first), key=lambda o: o.last, default=None)
    before = [n for n, noun in enumerate(nouns) if first <= noun.first and noun.last <= node.first]
    nearer = owner is not None and (not before or owner.first > nouns[before[-1]].first)
    if owner is not None and nearer and _owns(context, owner, node):
        return None
    if before:
        return before[-1]
    return _piece_after_or_earlier(context, node, nouns, owner, (first, last))


def _is_of(context: Context, node: Node, noun: Noun) -> bool:
    """Tell whether the size stands as "10 ft of garland"."""
    return context.fold(node.last) in ("of", "de") and noun.start in (node.last, node.last + 1)


def _owns(context: Context, owner: Node, node: Node) -> bool:
    """Tell whether "table that's 6 ft" links the size to the thing; "table - 6 ft" or "table, about 6 ft" does not."""
    gap = [context.fold(index) for index in range(owner.last, node.first)]
    if not gap:
        return not set(context.before(owner.first, 2)) & RUNS_OVER
    if gap[0] == "(" and set(gap) & HEDGES:
        return False
    linked = gap[0] in LINKS or set(gap) & TELLS
    return bool(linked) or (len(gap) <= 3 and not set(gap) & HEDGES)


def _piece_after_or_earlier(
    context: Context, node: Node, nouns: Sequence[Noun], owner: Node | None, sentence: tuple[int, int]
) -> int | None:
    first, last = sentence
    after = [n for n, noun in enumerate(nouns) if node.last <= noun.first < last and noun.first - node.last <= 5]
    if after:
        return after[0]
    if owner is not None or any(first <= o.first < last for o in _owners(context, nouns)):
        return None
    earlier = [n for n, noun in enumerate(nouns) if noun.last <= first]
    later = [n for n, noun in enumerate(nouns) if noun.first >= last]
    if earlier:
        return earlier[-1]
    return later[0] if len(later) == 1 else None


def as_facts(kind: str, nodes: Sequence[Node]) -> dict[str, list[float]]:
    """Return the sizes of a piece of ``kind`` as facts: {"length_ft": [low, high], ...}; the first said stays."""
    sides = [side for node in nodes for side in (node.value if isinstance(node.value, tuple) else (node.value,))]
    facts: dict[str, list[float]] = {}
    for side in sides:
        if side.unit == "in" and side.high < Fraction(SMALLEST_FEET.get(kind, 0)):
            continue
        direction = ONE_WAY.get(kind) if len(sides) == 1 else None
        direction = direction or side.direction or UNSAID[kind]
        facts.setdefault(f"{_suited(kind, direction)}_ft", side.feet())
    return facts


def _suited(kind: str, direction: str) -> str:
    """A wall is as wide as it is "long", a column as high."""
    if direction == "length" and kind in ("wall", "hoop"):
        return "width"
    if direction == "length" and kind in ("column", "marquee", "centerpiece", "bouquet"):
        return "height"
    return direction


def loose_facts(node: Node) -> dict[str, list[float]]:
    """Return a size that names no piece: {"bare_ft": ...} when it says no direction either."""
    sides: tuple[Side, ...] = node.value if isinstance(node.value, tuple) else (node.value,)
    return {f"{side.direction or 'bare'}_ft": side.feet() for side in sides}
