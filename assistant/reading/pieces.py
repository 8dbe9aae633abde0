"""Pieces: what is to be built, how many, how large; and what is taken back.

A piece named twice in a text ("a garland ... the garland should be 10 ft") is one piece, unless the words say that
it is another.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from assistant.reading import pieces_sizes, sizes
from assistant.reading.context import Context
from assistant.reading.findings import GIVE, ONLY, WITHDRAW, Finding
from assistant.reading.pieces_modes import mode_of
from assistant.reading.pieces_nouns import Noun, nouns
from assistant.reading.pieces_replies import bare_replies

RULES = sizes.RULES
MOST_ASKED = 50


def find(context: Context) -> list[Finding]:
    """Return a finding for each piece, for each size or count that names no piece, and for what is taken back."""
    named = nouns(context)
    sized = pieces_sizes.own_sizes(context, named)
    found: list[Finding] = []
    for number, noun in enumerate(named):
        mode = mode_of(context, noun, named)
        if mode is not None:
            nodes = sized.of.get(number, []) if mode != WITHDRAW else []
            found.extend(_finding(context, noun, some, mode) for some in _shared_out(noun, nodes))
    found = _counted_later(context, _merged(found))
    loose = [_loose(node) for node in sized.loose]
    return [*found, *loose, *bare_replies(context, named, loose)]


def _shared_out(noun: Noun, nodes: Sequence[Any]) -> list[Sequence[Any]]:
    """Give each of "2 garlands, one 8 ft and one 14 ft" its own size; else all sizes are the one piece's."""
    single = [node for node in nodes if not isinstance(node.value, tuple)]
    directions = {node.value.direction for node in single}
    each = len(nodes) == len(single) == noun.count and noun.count > 1 and len(directions) == 1
    return [[node] for node in nodes] if each else [nodes]


def _finding(context: Context, noun: Noun, nodes: Sequence[Any], mode: str) -> Finding:
    value: dict[str, Any] = {"kind": noun.kind}
    if noun.count is not None and mode != WITHDRAW:
        value["count"] = noun.count
    shared = len(nodes) == 1 and nodes[0].first >= noun.last and noun.count is not None and noun.count > 1
    if shared and context.fold(nodes[0].first - 1) in ("one", "una", "uno"):
        value["count"] = 1
    value.update(pieces_sizes.as_facts(noun.kind, nodes))
    first = noun.start if noun.start < noun.first else noun.first
    spans = [(context.tokens[first].start, noun.node.end), *(node.span for node in nodes if node.first >= noun.last)]
    rule = (
        "a piece is named"
        if mode == GIVE
        else "a piece is taken back"
        if mode == WITHDRAW
        else "this piece alone stays"
    )
    extra = {"plural": noun.plural, "definite": noun.definite, "another": noun.another, "figures": noun.figures}
    extra["joined"] = context.fold(noun.start - 1) in ("and", "&", "+", "plus", "y", "n")
    extra["sentence"] = context.sentence(noun.first)[0]
    return Finding("pieces", value, spans=tuple(spans), rule=rule, mode=mode, extra=extra)


def _loose(node: Any) -> Finding:
    return Finding("size", pieces_sizes.loose_facts(node), spans=(node.span,), rule="a size without a piece")


def _merged(found: Sequence[Finding]) -> list[Finding]:
    """Join the findings that speak of the same piece."""
    kept: list[Finding] = []
    for finding in found:
        same = next((k for k in reversed(kept) if _is_same_piece(k, finding)), None)
        if same is None:
            kept.append(finding)
        else:
            kept[kept.index(same)] = _joined(same, finding)
    return kept


def _is_same_piece(old: Finding, new: Finding) -> bool:
    if old.value["kind"] != new.value["kind"] or old.mode == WITHDRAW or new.mode == WITHDRAW:
        return False
    before, after = old.extra or {}, new.extra or {}
    if (
        after["another"]
        or (old.value.get("count") == new.value.get("count") == 1 and before["plural"] and after["plural"])
        or (before["figures"] and after["figures"] and before["figures"] != after["figures"])
    ):
        return False
    shared = {key for key in old.value if key.endswith("_ft")} & {key for key in new.value if key.endswith("_ft")}
    if any(old.value[key] != new.value[key] for key in shared) and not after["definite"]:
        return False
    counted = "count" in new.value and "count" in old.value and not after["definite"]
    apart = counted and before["sentence"] == after["sentence"] and not before["plural"]
    old_sized = any(key.endswith("_ft") for key in old.value)
    return not (apart and (old_sized or not any(key.endswith("_ft") for key in new.value) or after["joined"]))


def _counted_later(context: Context, found: list[Finding]) -> list[Finding]:
    """Read "do you do columns? Need two for ..." as two columns."""
    open_ones = [f for f in found if f.mode == GIVE and "count" not in f.value and (f.extra or {})["plural"]]
    if len(found) != 1 or not open_ones:
        return found
    for number in context.nodes.longest("number"):
        asked = context.nodes.ending("wanted", number.first)
        closed = context.fold(number.last) in ("for", "", ".", ",", "please", "pls", "of", "de", "at", "!", "?", "\n")
        if asked and closed and number.value.denominator == 1 and 1 <= number.value <= MOST_ASKED:
            value = {**open_ones[0].value, "count": int(number.value)}
            return [replace(open_ones[0], value=value, spans=(*open_ones[0].spans, number.span))]
    return found


def _joined(old: Finding, new: Finding) -> Finding:
    value = {**new.value, **old.value, **{k: v for k, v in new.value.items() if k.endswith("_ft")}}
    before, after = old.extra or {}, new.extra or {}
    if "count" in new.value and (after["plural"] or "count" not in old.value):
        value["count"] = new.value["count"]
    if before["plural"] and "count" not in old.value and not after["plural"]:
        value["count"] = new.value.get("count", 1)
    extra = {**before, "plural": before["plural"] or after["plural"], "figures": before["figures"] or after["figures"]}
    mode = ONLY if ONLY in (old.mode, new.mode) else GIVE
    return Finding("pieces", value, spans=old.spans + new.spans, rule=old.rule, mode=mode, extra=extra)
