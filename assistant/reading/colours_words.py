"""Which colour words mean balloons: not a venue's name, a person, a set phrase or the colour of a thing."""

from collections.abc import Sequence

from assistant.reading import name, place
from assistant.reading.colours_scope import chains
from assistant.reading.context import Context
from assistant.reading.layout import QUOTED, SIGN_OFF, SIGNATURE
from assistant.reading.node import Node
from assistant.reading.place_words import is_capital

MOST_COLOURS = 120  # colour words of one text; what a longer text says after them is not read


def is_meant(context: Context) -> list[Node]:
    """Return the colour nodes that speak of balloons, in order."""
    taken = place.taken(context) | name.taken(context)
    open_nodes = [
        n for n in _colour_nodes(context) if not set(range(n.first, n.last)) & taken and _is_said_here(context, n)
    ]
    open_nodes = [node for node in open_nodes if not _is_in_a_name(context, node)]
    groups = chains(context, open_nodes)
    of_things = [node for group in groups if _belongs_to_thing(context, group) for node in group]
    kept: list[Node] = []
    for group in groups:
        for node in group:
            alone = not any(other.kind == "colour" and other is not node for other in group)
            if node not in of_things and _is_colour_here(context, node, alone=alone):
                kept.append(node)
    return kept


def _colour_nodes(context: Context) -> list[Node]:
    nodes = context.nodes.longest("colour", "loose_colour", "not_colour", "holiday")
    chosen: list[Node] = []
    for node in sorted(nodes, key=lambda n: (n.first, n.kind != "not_colour", n.kind != "colour", n.typo, -n.length)):
        if chosen and node.first < chosen[-1].last:
            continue
        chosen.append(node)
    return [node for node in chosen if node.kind in ("colour", "loose_colour")][:MOST_COLOURS]


def _is_said_here(context: Context, node: Node) -> bool:
    hour = context.nodes.is_a("clock", node.first) and context.fold(node.first - 1) in ("at", "@", "by", "til", "until")
    return context.role(node.first) not in (SIGNATURE, QUOTED, SIGN_OFF) and not hour


def _belongs_to_thing(context: Context, group: Sequence[Node]) -> bool:
    """Tell whether the colours are those of a dress, a tent or a wall: "white tablecloths", "the walls are beige"."""
    last = group[-1].last
    if context.fold(last) in ("colored", "coloured", "color", "colour"):
        last += 1
    if context.nodes.is_a("coloured_thing", last):
        return True
    first, _ = context.sentence(group[0].first)
    given = [n for n in context.nodes.of("colour_given") if first <= n.first < group[0].first]
    return bool(given) and group[0].first - given[-1].last <= 1


def _is_colour_here(context: Context, node: Node, *, alone: bool) -> bool:
    if _is_heading(context, node):
        return False
    if not alone:
        return True
    labelled = _is_labelled(context, node)
    if node.kind == "loose_colour":
        return labelled or context.nodes.is_a("balloon", node.last)
    if labelled or context.nodes.is_a("balloon", node.last) or context.nodes.is_a("piece", node.last):
        return True
    return not _is_theme(context, node) and not _is_a_name(context, node)


def _is_labelled(context: Context, node: Node) -> bool:
    """Tell whether a heading for colours stands before, in the same sentence ("colors: sky, sand and pearl")."""
    first, last = context.sentence(node.first)
    before = [label for label in context.nodes.of("colour_label") if first <= label.first < node.first]
    return bool(before) or any(
        node.last <= n.first <= min(last, node.last + 2) for n in context.nodes.of("colour_label")
    )


def _is_in_a_name(context: Context, node: Node) -> bool:
    """Tell whether the word is a possessive or stands among capitals that are no colours ("White Pine Dental")."""
    if context.tokens[node.last - 1].text.lower().endswith(("'s", "’s")):
        return True
    if not is_capital(context, node.first):
        return False
    first, last = node.first, node.last
    while _continues(context, last):
        last += 1
    while is_capital(context, first - 1) and _is_any_colour(context, first - 1):
        first -= 1
    before = first - 1
    named_after = is_capital(context, last) and not _is_known(context, last)
    opens = before >= 0 and before == context.sentence(before)[0]
    return named_after or (is_capital(context, before) and not _is_known(context, before) and not opens)


def _continues(context: Context, at: int) -> bool:
    """Tell whether a name in capitals goes on: another colour, or "&" before a capital."""
    if context.fold(at) == "&":
        return is_capital(context, at + 1)
    return is_capital(context, at) and _is_any_colour(context, at)


def _is_any_colour(context: Context, at: int) -> bool:
    return context.nodes.is_a("colour", at) or context.nodes.is_a("loose_colour", at)


def _is_heading(context: Context, node: Node) -> bool:
    """Tell whether a loose word only describes a list that follows ("wine colors - burgundy and blush")."""
    labels = context.nodes.beginning("colour_label", node.last)
    return node.kind == "loose_colour" and any(context.fold(label.last) in ("-", ":", "(") for label in labels)


def _is_theme(context: Context, node: Node) -> bool:
    return node.value == "rainbow" and context.fold(node.last) in ("theme", "themed", "party", "room")


def _is_a_name(context: Context, node: Node) -> bool:
    """Tell whether a lone colour word is a person's or a place's name."""
    capital = is_capital(context, node.first)
    opens = node.first == context.sentence(node.first)[0]
    if not any(n.last == node.last for n in context.nodes.beginning("name_colour", node.first)):
        return False
    if context.nodes.ending("relation", node.first) or context.nodes.ending("honour", node.first):
        return True
    does = any(context.nodes.beginning("person_does", node.last))
    return does or (capital and not opens)


def _is_known(context: Context, at: int) -> bool:
    kinds = (
        "colour",
        "shade",
        "piece",
        "balloon",
        "colour_label",
        "wanted",
        "weekday",
        "month",
        "occasion",
        "loose_colour",
        "stop_word",
        "owner",
        "bare_piece",
    )
    return any(context.nodes.is_a(kind, at) for kind in kinds)
