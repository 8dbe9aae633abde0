"""Quotes kept for years: a price book as plain data by its version, and a quote made anew from its facts.

A quote keeps the version of the price book it was made with. The studio keeps one snapshot of each version beside its
quotes; with both, the quote can be recomputed to the cent whatever the rules have become since.
"""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from assistant.pricing.book import Cautions, Learned, PriceBook
from assistant.pricing.engine import price_job
from assistant.pricing.gas_rules import GasRules
from assistant.pricing.given import given
from assistant.pricing.plain import from_plain, to_plain
from assistant.pricing.quote import Quote
from assistant.pricing.rates import Prices
from assistant.pricing.recipes import Pieces

MODEL = 1  # raised whenever the formulas change, so that an old quote is never recomputed by new ones in silence
PARTS = {"prices": Prices, "pieces": Pieces, "cautions": Cautions, "gas": GasRules, "learned": dict[str, Learned]}


class NotTheSame(ValueError):
    """A kept quote and a snapshot that do not belong together; the text names both and the remedy."""


def snapshot(book: PriceBook) -> dict[str, Any]:
    """Return a price book as plain JSON data, with the line of each figure; the map of places stays outside."""
    lines = {file: [[list(path), line] for path, line in rows.items()] for file, rows in book.lines.items()}
    parts = {name: to_plain(getattr(book, name)) for name in PARTS}
    return {"version": book.version, "model": MODEL, **parts, "lines": lines}


def restore(kept: Mapping[str, Any], road_miles: Mapping[str, str | None] | None = None) -> PriceBook:
    """Return the price book of a snapshot; ``road_miles`` holds the miles of places as they were found then."""
    found = {place: None if miles is None else Decimal(miles) for place, miles in (road_miles or {}).items()}
    lines = {file: {tuple(path): line for path, line in rows} for file, rows in kept["lines"].items()}
    parts: dict[str, Any] = {name: from_plain(shape, kept[name]) for name, shape in PARTS.items()}
    return PriceBook(version=kept["version"], lines=lines, road_miles=found.get, **parts)


def record(quote: Quote) -> dict[str, Any]:
    """Return what a quote is recomputed from: its facts, day, book version, the miles found, and its exact figures."""
    place = given(quote.facts, "place").value
    asked = isinstance(place, str) and not given(quote.facts, "miles").known
    miles = quote.book.road_miles(place) if asked else None
    return {
        "price_book": quote.book.version,
        "model": MODEL,
        "today": quote.priced.job.today.isoformat(),
        "facts": dict(quote.facts),
        "road_miles": {place: None if miles is None else str(miles)} if asked else {},
        "exact": list(quote.exact),
    }


def recompute(kept: Mapping[str, Any], book: Mapping[str, Any]) -> Quote:
    """Return the quote of a record, made anew with the snapshot of its price book.

    Raises NotTheSame when the snapshot is of another version, or when the figures are no longer the same.
    """
    for name, key in (("price book", "price_book"), ("model", "model")):
        there = book["version"] if key == "price_book" else MODEL
        if kept[key] != there:
            raise NotTheSame(f"the quote was made with {name} {kept[key]}, not {there}: take the one it was made with")
    restored = restore(book, kept["road_miles"])
    quote = Quote(price_job(kept["facts"], restored, date.fromisoformat(kept["today"])), restored, kept["facts"])
    if list(quote.exact) != kept["exact"]:
        raise NotTheSame(f"the figures are {list(quote.exact)}, kept were {kept['exact']}: the record was changed")
    return quote
