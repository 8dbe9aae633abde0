"""What the words do with a piece: ask for it, take it back, or let it alone stay."""

from collections.abc import Sequence

from assistant.reading.context import Context
from assistant.reading.findings import GIVE, ONLY, WITHDRAW
from assistant.reading.node import Node
from assistant.reading.pieces_nouns import Noun

REACH = 4  # words between a negative and the piece it takes back
_ENDS = {".", "!", "?", ";", "\n", "\n\n", "*", "(", ")", ":", "but", "pero", "so"}
_LISTING = {"or", "and", ",", "nor", "the", "a", "any", "o", "ni", "y", "&", "/", "either"}
_STRUCTURES = {"wall", "arch", "column", "hoop"}


def mode_of(context: Context, noun: Noun, nouns: Sequence[Noun]) -> str | None:
    """Return give, withdraw or only; None when the words ask for nothing (praise, a thing of the venue)."""
    if _is_done(context, noun) or _is_of_the_venue(context, noun, nouns):
        return None
    negative = _negative_before(context, noun, nouns)
    if negative is not None:
        return None if negative.value == "already" else WITHDRAW
    if _given_up_after(context, noun) or _swapped_away(context, noun, nouns):
        return WITHDRAW
    return ONLY if _stays_alone(context, noun, nouns) else GIVE


def _is_done(context: Context, noun: Noun) -> bool:
    first, _ = context.sentence(noun.first)
    past = [node for node in context.nodes.of("done") if node.value == "past"]
    after = any(noun.last <= node.first <= noun.last + 1 for node in past)
    yours = [node for node in context.nodes.of("done") if node.value == "yours"]
    return after or any(first <= node.first < noun.first and node.last >= noun.start - 1 for node in yours)


def _is_of_the_venue(context: Context, noun: Noun, nouns: Sequence[Noun]) -> bool:
    """Tell whether an arch or a wall only carries the piece named before it ("a garland for our arch")."""
    if noun.kind not in _STRUCTURES or noun.count not in (None, 1):
        return False
    first, _ = context.sentence(noun.first)
    earlier = [n for n in nouns if first <= n.first < noun.first and n.kind != noun.kind]
    start = noun.start
    if noun.definite or context.nodes.ending("definite", start) or context.fold(start - 1) in ("a", "an", "the"):
        start -= 1 if not noun.definite or context.nodes.ending("definite", start) else 0
    led = context.nodes.ending("standing_on", start) or context.fold(start - 1) in ("for", "para")
    determined = (
        noun.definite or start < noun.start or context.fold(noun.start) in ("a", "an", "the", "our", "un", "una")
    )
    return bool(earlier and led and determined and noun.kind != "hoop")


def _negatives(context: Context) -> list[Node]:
    harmless = context.nodes.of("harmless")
    return [n for n in context.nodes.longest("unwanted") if not any(h.meets(n) for h in harmless) and n.value != "only"]


def _negative_before(context: Context, noun: Noun, nouns: Sequence[Noun]) -> Node | None:
    before: list[Node] = [node for node in _negatives(context) if node.last <= noun.first]
    return next((node for node in reversed(before) if _reaches(context, node, noun, nouns)), None)


def _reaches(context: Context, negative: Node, noun: Noun, nouns: Sequence[Noun]) -> bool:
    """Tell whether nothing ends the negative's reach; a list after it ("no columns or arch") is all taken back."""
    gap = range(negative.last, noun.start)
    if any(context.fold(index) in _ENDS for index in gap):
        return False
    between = [n for n in nouns if negative.last <= n.first < noun.first]
    if not between:
        return len(gap) <= REACH and context.fold(negative.last) != ","
    joined = range(between[-1].last, noun.start)
    listing = all(context.fold(index) in _LISTING for index in joined)
    ored = any(context.fold(index) in ("or", "nor", "o", "ni", "/") for index in range(between[0].last, noun.start))
    also = any(context.fold(index) in ("and", "y", "&") for index in joined) and noun.count is None
    return listing and (ored or also)


def _given_up_after(context: Context, noun: Noun) -> bool:
    return any(context.nodes.beginning("given_up", noun.last + n) for n in (0, 1))


def _swapped_away(context: Context, noun: Noun, nouns: Sequence[Noun]) -> bool:
    """Tell whether the piece is the first of "change the arch to a hoop"."""
    first, last = context.sentence(noun.first)
    changes = [n for n in context.nodes.of("swap") if n.value == "change" and first <= n.first < noun.first]
    if not changes or noun.start - changes[-1].last > 2:
        return False
    other = next((n for n in nouns if noun.last < n.first < last), None)
    if other is None or other.kind == noun.kind:
        return False
    return any(n.value == "becomes" and noun.last <= n.first < other.first for n in context.nodes.of("swap"))


def _stays_alone(context: Context, noun: Noun, nouns: Sequence[Noun]) -> bool:
    first, last = context.sentence(noun.first)
    leads = [n for n in context.nodes.of("unwanted") if n.value == "only" and first <= n.first <= noun.start + 1]
    changed = any(first <= n.first < last for n in context.nodes.of("make_it"))
    near = [n for n in leads if noun.start - 2 <= n.first and n.last >= noun.start - 1]
    the = any(
        context.fold(n.last - 1) in ("the", "el", "la") or context.fold(n.last) in ("the", "el", "la") for n in near
    )
    earlier = [n for n in nouns if n.first < noun.first]
    if near and (the or changed):
        return not earlier or context.sentence(earlier[-1].first) != (first, last)
    instead = any(n.value == "instead" and first <= n.first < last for n in context.nodes.of("swap"))
    return (
        instead
        and not earlier
        and not any(n.value == "without" and first <= n.first < last for n in _negatives(context))
    )
