"""Pieces whose shape decides the work (a ceiling, loose or hung), where the shape is not said: every reading of it."""

from collections.abc import Mapping
from itertools import product
from math import prod
from typing import Any

from assistant.pricing.book import DesignerDecides, PriceBook
from assistant.pricing.given import given
from assistant.pricing.job import Assumed

SHAPE = "shape"
MOST_READINGS = 16


def readings_of_shapes(facts: Mapping[str, Any], book: PriceBook) -> list[Mapping[str, Any]]:
    """Return the facts once for each way the unsaid shapes can turn out, the likeliest first.

    Which shapes are priced stands in the rules; a piece without a row there is left as it came. Raises
    DesignerDecides where the readings are too many to price.
    """
    pieces = given(facts, "pieces").value if isinstance(facts, Mapping) else None
    if not isinstance(pieces, list | tuple) or not any(_shapes(piece, book) for piece in pieces):
        return [facts]
    choices = [[{**piece, SHAPE: shape} for shape in _shapes(piece, book)] or [piece] for piece in pieces]
    if prod(map(len, choices)) > MOST_READINGS:
        raise DesignerDecides("several pieces whose shape is open: needed is the shape of each")
    return [{**facts, "pieces": list(chosen)} for chosen in product(*choices)]


def shapes_assumed(facts: Mapping[str, Any], book: PriceBook) -> list[Assumed]:
    """Return the shapes that are priced as likely although nobody said them."""
    pieces = given(facts, "pieces").value if isinstance(facts, Mapping) else None
    rows = [(piece, _shapes(piece, book)) for piece in pieces] if isinstance(pieces, list | tuple) else []
    return [
        Assumed(SHAPE, shapes[0], f"{piece['kind']}: {' or '.join(shapes)} is not said; the range covers both")
        for piece, shapes in rows
        if len(shapes) > 1
    ]


def _shapes(piece: Any, book: PriceBook) -> list[str]:
    if not isinstance(piece, Mapping) or piece.get(SHAPE) is not None or not isinstance(piece.get("kind"), str):
        return []
    return book.pieces.shape_not_said.get(piece["kind"], [])
