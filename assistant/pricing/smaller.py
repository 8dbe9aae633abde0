"""The pieces of a fact sheet made smaller by one factor, in sizes that can be told to a client."""

from collections.abc import Mapping
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from typing import Any

from assistant.pricing.given import given
from assistant.pricing.job import Job, JobPiece
from assistant.pricing.measures import short

HALF_FOOT = Decimal("0.5")
LEAST_FT, LEAST_BALLOONS = Decimal(3), 3
MEASURES = ("length_ft", "width_ft", "length_m", "width_m", "size", "at", "way", "steps", "landing_ft", "sag_ft")
Row = dict[str, Any]


def smaller_pieces(facts: Mapping[str, Any], job: Job, factor: Decimal) -> tuple[list[Row], list[str]]:
    """Return the pieces with ``factor`` of their likely size, and in words what changed; the count stays."""
    listed = given(facts, "pieces").value or [{"kind": piece.kind} for piece in job.pieces]
    rows, words = [], []
    for row, piece in zip(listed, job.pieces, strict=True):
        changed, size = _smaller(dict(row), piece, factor)
        rows.append(changed)
        if size:
            words.append(f"{piece.piece.label}: {size}")
    return rows, words


def _smaller(row: Row, piece: JobPiece, factor: Decimal) -> tuple[Row, str]:
    units = piece.size.units.likely
    if piece.work.unit == "balloons":
        number = max(LEAST_BALLOONS, int((units * factor).to_integral_value(ROUND_FLOOR)))
        return _changed(
            row, piece, {"balloons": number}, f"{number} balloons instead of {short(units)}", number < units
        )
    if piece.piece.outline == "height":
        return _in_feet(row, piece, "height_ft", units, factor)
    if piece.runs:
        return _in_feet(row, piece, "length_ft", units, factor)
    if piece.piece.outline == "area" and piece.size.height is not None:
        return _in_feet(row, piece, "width_ft", units / piece.size.height.likely, factor)
    return row, ""


def _in_feet(row: Row, piece: JobPiece, key: str, feet: Decimal, factor: Decimal) -> tuple[Row, str]:
    less = max(LEAST_FT, (feet * factor / HALF_FOOT).to_integral_value(ROUND_HALF_UP) * HALF_FOOT)
    what = " wide" if key == "width_ft" else " high" if key == "height_ft" else ""
    words = f"{short(less)} ft{what} instead of {short(feet)} ft"
    return _changed(row, piece, {key: float(less)}, words, less < feet)


def _changed(row: Row, piece: JobPiece, size: Row, words: str, smaller: bool) -> tuple[Row, str]:
    if not smaller:
        return row, ""
    dropped = (*MEASURES, "height_ft", "height_m") if piece.piece.outline == "height" else MEASURES
    kept = {key: value for key, value in row.items() if key not in dropped}
    if piece.piece.count_names_units:
        kept.pop("count", None)
    if piece.piece.outline == "area" and piece.size.height is not None:
        kept["height_ft"] = float(piece.size.height.likely)
        kept.pop("height_m", None)
    return {**kept, **size}, words
