"""Pieces in words: "10 ft garland and 2 columns, 6.5 ft"."""

from collections.abc import Mapping
from typing import Any

from assistant.inquiry.known import Facts, pieces_of
from assistant.wording import formats
from assistant.wording.phrases import Phrases
from assistant.wording.template import fill


def pieces_text(facts: Facts, phrases: Phrases) -> str:
    """Return all pieces of a sheet in one phrase; empty when none is known."""
    return formats.listed([_piece(piece, phrases) for piece in pieces_of(facts)], phrases.conjunction)


def _piece(piece: Mapping[str, Any], phrases: Phrases) -> str:
    count = int(piece.get("count") or 1)
    one, many = phrases.pieces.get(str(piece.get("kind")), (str(piece.get("kind")),) * 2)
    size = _size(piece, phrases)
    if count != 1:
        return fill(phrases.counted, {"count": str(count), "noun": many, "size": size})
    return fill(phrases.sized, {"size": size, "noun": one}) if size else one


def _size(piece: Mapping[str, Any], phrases: Phrases) -> str:
    """Width by height where both are known, else the one measure that is."""
    measures = {name: _measure(piece.get(f"{name}_ft"), phrases) for name in ("width", "height", "length")}
    if measures["width"] and measures["height"]:
        return f"{measures['width']}x{measures['height']} {phrases.feet}"
    known = measures["length"] or measures["width"] or measures["height"]
    return f"{known} {phrases.feet}" if known else ""


def _measure(ends: Any, phrases: Phrases) -> str:
    if not ends:
        return ""
    low, high = (ends[0], ends[-1]) if isinstance(ends, list | tuple) else (ends, ends)
    first, last = formats.number(low), formats.number(high)
    return first if first == last else fill(phrases.range, {"low": first, "high": last})
