"""Setting: indoors, outdoors or covered, said outright or implied by the kind of venue.

What is said outright wins over what a venue implies; the part of a venue (the patio) over the venue (the hotel). Two
settings that contradict each other are unclear, and asked.
"""

from collections.abc import Sequence
from dataclasses import replace

from assistant.reading import place
from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules, kind
from assistant.reading.layout import QUOTED, SIGN_OFF, SIGNATURE
from assistant.reading.node import Node
from assistant.reading.place_words import is_capital

RULES = Rules()

INDOOR, OUTDOOR, COVERED, UNKNOWN = "indoor", "outdoor", "covered", "unknown"
REACH_OF_PREPOSITION = 6
REACH_OF_NEGATIVE = 3
MOST_WORDS = 80  # words for a setting that are weighed in one text


@RULES.rule("on a floor", "storey", kind("ordinal", "number"), kind("floor_word"))
def on_a_floor(_number: Node, _word: Node) -> object:
    return INDOOR


@RULES.rule("floor with its number", "storey", kind("floor_word"), kind("number"))
def floor_number(_word: Node, _number: Node) -> object:
    return INDOOR


def find(context: Context) -> list[Finding]:
    """Return where the decoration will stand: stated, inferred, or unclear with both options."""
    said = _said(context)
    implied = _implied(context)
    if said and {node.value for node in said} == {OUTDOOR}:
        said += [node for node in implied if node.value == COVERED]  # outdoors, under a roof
    if said:
        return [_settled(context, said, "stated")]
    return [_weighed(context, implied)] if implied else []


def _weighed(context: Context, implied: Sequence[Node]) -> Finding:
    """A part of a venue, such as its parking lot, tells more than the venue named in a later text."""
    part = any(_is_part(context, node) for node in implied)
    return replace(_settled(context, implied, "inferred"), extra={"weight": 2 if part else 1})


def _settled(context: Context, nodes: Sequence[Node], status: str) -> Finding:
    values = list(dict.fromkeys(node.value for node in nodes))
    spans = tuple(node.span for node in nodes)
    rule = "said outright" if status == "stated" else "what the kind of venue implies"
    if COVERED in values and INDOOR not in values:
        values = [COVERED]
    if len(values) == 1 and not (status == "stated" and _is_open(context, nodes)):
        return Finding("setting", values[0], status, spans, rule)
    options = tuple(values) if len(values) > 1 else (INDOOR, OUTDOOR)
    return Finding("setting", None, "unclear", spans, rule, "two settings are possible", options)


def _is_open(context: Context, nodes: Sequence[Node]) -> bool:
    """Tell whether one setting stands beside "not sure if" or "depends", so that it is not settled."""
    first, last = context.sentence(nodes[-1].first)
    doubts = [n for n in context.nodes.of("doubt") if first <= n.first < last]
    return any(abs(n.first - nodes[-1].first) <= 4 for n in doubts)


def _is_read(context: Context, node: Node) -> bool:
    return context.role(node.first) not in (SIGNATURE, QUOTED, SIGN_OFF)


def _said(context: Context) -> list[Node]:
    venues = context.nodes.longest("venue", "owner", "not_where")
    found: list[Node] = []
    for node in context.nodes.longest("setting")[:MOST_WORDS]:
        if _is_heading(context, node):
            continue
        inside_name = any(v.covers(node) and v.length > node.length for v in venues)
        if not inside_name and _is_read(context, node) and not _is_denied(context, node) and _is_setting(context, node):
            found.append(node)
    return found


def _is_heading(context: Context, node: Node) -> bool:
    """Tell whether the word is part of a form's question ("Indoor/Outdoor: indoor")."""
    at = node.last
    while context.fold(at) in ("/", "or", "o") and context.nodes.is_a("setting", at + 1):
        at += 2
    return context.fold(at) in (":", "?") and (at > node.last or context.fold(node.first - 1) in ("/", "or", "o"))


def _is_setting(context: Context, node: Node) -> bool:
    """Tell whether "inside" or "outside" says where, rather than "outside of town" or "inside the box"."""
    after = context.fold(node.last)
    if context.fold(node.first) in ("outside", "inside", "dentro", "interior", "exterior") and node.length == 1:
        if after in ("of", "de", "linens", "caterer", "vendor", "vendors", "food"):
            return after in ("of", "de") and node.value == INDOOR and not _leads_to_venue(context, node.last)
        return not _leads_to_venue(context, node.last) and not _leads_to_town(context, node)
    return True


def _leads_to_venue(context: Context, at: int) -> bool:
    """Tell whether a covered venue follows: "inside the tent" is covered, not indoor."""
    near = range(at, at + 3)
    return any(node.value == COVERED for index in near for node in context.nodes.beginning("venue", index))


def _leads_to_town(context: Context, node: Node) -> bool:
    token = context.tokens[node.last] if node.last < len(context.tokens) else None
    named = token is not None and token.text[:1].isupper() and token.fold not in ("the", "at", "in")
    return node.value == OUTDOOR and named


def _is_denied(context: Context, node: Node) -> bool:
    """Tell whether the words say the contrary: "not outside", "terrace (not used)", "instead of the patio"."""
    negatives = [
        n for n in context.nodes.of("unwanted", "colour_negative", "not_used") if n.value not in ("only", "already")
    ]
    harmless = context.nodes.of("harmless")
    for negative in negatives:
        if any(h.meets(negative) for h in harmless):
            continue
        gap = [context.fold(index) for index in range(negative.last, node.first)]
        before = negative.last <= node.first and len(gap) <= REACH_OF_NEGATIVE
        if before and not set(gap) & {",", ".", "\n", "\n\n", ";", "but", "-", "so", "wall", "walls", "columns"}:
            return True
        behind = range(node.last, negative.first)
        if negative.kind == "not_used" and negative.first >= node.last and len(behind) <= REACH_OF_NEGATIVE:
            return True
    return False


def _implied(context: Context) -> list[Node]:
    """Return the venue words of the most telling sort: parts of a venue, storeys, then whole venues."""
    places = place.taken(context)
    idioms = context.nodes.of("not_where", "made_of", "not_colour")
    found: list[Node] = []
    for node in context.nodes.longest("venue", "street")[:MOST_WORDS]:
        other = any(idiom.meets(node) for idiom in idioms)
        if node.kind == "street" or other or not _is_read(context, node) or _is_denied(context, node):
            continue
        named = node.first in places
        if named and context.nodes.is_a("street", node.first) and context.fold(node.first - 1) != "the":
            continue
        if (named or _is_located(context, node) or _is_alone(context, node)) and not _is_in_street(context, node):
            found.append(node)
    found = _nearer(context, found)
    heads = [node for node in found if not _is_modifier(node, found)]
    parts = [node for node in heads if _is_part(context, node) and node.value != UNKNOWN]
    parts = [node for node in parts if node.first not in places] or parts  # "rooftop at Sol bar"
    storeys = [node for node in context.nodes.longest("storey") if _is_read(context, node)]
    whole = [node for node in heads if node.value != UNKNOWN]
    return _most_telling(parts) or storeys[:1] or whole[:1]


def _most_telling(parts: Sequence[Node]) -> list[Node]:
    """A roof over the place outweighs the yard around it; otherwise all parts count."""
    covered = [node for node in parts if node.value == COVERED]
    return covered or list(parts)


def _nearer(context: Context, found: list[Node]) -> list[Node]:
    """Leave out what only lies beside the place ("the clubhouse by the pool")."""
    beside = {"by", "near", "beside", "behind", "overlooking", "across", "opposite", "off", "facing"}
    near = [n for n in found if beside & {context.fold(n.first), *context.before(n.first, 3)}]
    rest = [node for node in found if node not in near and node.value != UNKNOWN]
    return rest if rest and near else found


def _is_alone(context: Context, node: Node) -> bool:
    """Tell whether the venue is the whole of a short answer ("front porch", "the church hall")."""
    first, last = _clause(context, node)
    words = sum(context.tokens[index].kind == "word" for index in range(first, last))
    busy = any(
        context.nodes.is_a(kind, index)
        for index in range(first, last)
        for kind in ("piece", "owner", "occasion", "colour", "self_intro")
        if not node.first <= index < node.last
    )
    ends = all(
        context.tokens[index].kind != "word" or context.fold(index) in ("only", "please", "pls")
        for index in range(node.last, last)
    )
    return words <= 4 and ends and not busy


def _clause(context: Context, node: Node) -> tuple[int, int]:
    """Return the words between commas, brackets or line ends around a node."""
    first, last = context.sentence(node.first)
    left = [n for n in range(first, node.first) if context.fold(n) in (",", "(", ")", "-")]
    right = [n for n in range(node.last, last) if context.fold(n) in (",", "(", ")", "-")]
    return (left[-1] + 1 if left else first), (right[0] if right else last)


def _is_part(context: Context, node: Node) -> bool:
    return any(part.last >= node.last for part in context.nodes.beginning("part_of_venue", node.first)) or any(
        part.covers(node) for part in context.nodes.of("part_of_venue")
    )


def _is_located(context: Context, node: Node) -> bool:
    """Tell whether "in", "at" or "under" leads to the venue, or a place follows it ("warehouse on 44 Mill Way")."""
    first, _ = context.sentence(node.first)
    for back in range(node.first, max(first, node.first - REACH_OF_PREPOSITION), -1):
        leads = [
            n for n in context.nodes.ending("goes_in", back) if context.fold(n.first) != "on" or node.value != INDOOR
        ]
        if leads or context.nodes.ending("place_label", back):
            return True
        if context.nodes.is_a("piece", back - 1) or context.fold(back - 1) == ",":
            break
    if _is_part(context, node) and node.last in place.taken(context):  # "our backyard 88 Wren Ct"
        return True
    numbered = 1 if context.fold(node.last).isdecimal() else 0
    if context.fold(node.last) == "in":
        return context.fold(node.last + 1) in ("the", "my", "our", "her", "his", "a") or is_capital(
            context, node.last + 1
        )
    if _is_part(context, node) and (context.fold(node.last) == "is" or context.nodes.is_a("piece", node.last)):
        return True
    return context.fold(node.last + numbered) in ("at", "on", "of", "@", "behind", "party", "wedding", "bbq", "setup")


def _is_modifier(node: Node, found: Sequence[Node]) -> bool:
    """Tell whether another kind of venue follows directly: in "hotel rooftop" the head is the rooftop."""
    return any(other.first == node.last for other in found)


def _is_in_street(context: Context, node: Node) -> bool:
    """Tell whether the word is part of a street's name ("Garden St", "Park Avenue")."""
    return any(
        street.first in (node.last, node.last + 1)
        and street.last > node.last
        and not context.nodes.is_a("stop_word", node.last)
        for street in context.nodes.of("sure_street")
        if street.first == node.last or context.fold(node.last) in ("hill", "view", "side")
    )
