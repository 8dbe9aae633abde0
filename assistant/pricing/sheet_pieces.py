"""Reads the pieces of a fact sheet: kind, how many, and the measures that were said."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from assistant.pricing.book import DesignerDecides, PriceBook
from assistant.pricing.given import FactWrong, between, given, length, text, word
from assistant.pricing.job import Assumed, JobPiece
from assistant.pricing.measures import Said
from assistant.pricing.recipes import Piece
from assistant.pricing.sizing import size_of
from assistant.pricing.unknowns import Between, exactly

ONE = Decimal(1)
MOST_STEPS = Decimal(60)


def read_pieces(facts: Mapping[str, Any], book: PriceBook, assumed: list[Assumed]) -> tuple[JobPiece, ...]:
    """Return the pieces to price; when none is named, the one that the rules price instead.

    Raises FactWrong for a piece that cannot be and DesignerDecides for one without a recipe.
    """
    listed = given(facts, "pieces").value
    if listed is None or listed == []:
        kind = book.prices.unknown.piece
        assumed.append(Assumed("pieces", kind, "no piece named yet; the studio's usual one is priced"))
        listed = [{"kind": kind}]
    if not isinstance(listed, list | tuple):
        raise FactWrong('facts.pieces: no list: write [{"kind": "garland", "length_ft": [8, 10]}]')
    if len(listed) > book.prices.limits.pieces:
        raise FactWrong(f"facts.pieces: more than {book.prices.limits.pieces} pieces: split the job")
    return tuple(_piece(row, f"facts.pieces[{i}]", book, assumed) for i, row in enumerate(listed))


def _piece(row: Any, name: str, book: PriceBook, assumed: list[Assumed]) -> JobPiece:
    if not isinstance(row, Mapping) or not isinstance(row.get("kind"), str):
        raise FactWrong(f'{name}: no piece: write {{"kind": "garland", ...}}')
    try:
        kind, piece = book.piece(row["kind"], text(row.get("shape"), f"{name}.shape"))
        said = _said(row, name, piece, book)
        size = size_of(said, piece, book.pieces.outlines)
    except FactWrong:
        raise
    except DesignerDecides as problem:
        raise DesignerDecides(f"{name}: {problem}") from None
    except ValueError as problem:
        raise FactWrong(f"{name}: {problem}") from None
    assumed.extend(Assumed("size", _shown(size.units), f"{piece.label}: {why}") for why in size.why)
    count = exactly(ONE) if piece.count_names_units else _count(row, name, piece, book, assumed)
    return JobPiece(kind, piece, book.work(piece), size, count, _mount(row, name, book) or size.mount)


def _mount(row: Mapping[str, Any], name: str, book: PriceBook) -> str | None:
    mount = row.get("mount")
    return None if mount is None else word(mount, f"{name}.mount", book.prices.crew.mounts)


def _said(row: Mapping[str, Any], name: str, piece: Piece, book: PriceBook) -> Said:
    limits, count = book.prices.limits, "count" if piece.count_names_units and "balloons" not in row else "balloons"
    return Said(
        length=length(row, name, "length", limits.length_ft),
        width=length(row, name, "width", limits.width_ft),
        height=length(row, name, "height", limits.height_ft),
        size=text(row.get("size"), f"{name}.size"),
        spot=text(row.get("at"), f"{name}.at"),
        share=_optional(row, name, "share", ONE, "give the share that is covered, above 0 to 1"),
        way=text(row.get("way"), f"{name}.way"),
        steps=_optional(row, name, "steps", MOST_STEPS, "give how many steps, a number above 0"),
        landing=length(row, name, "landing", limits.width_ft),
        balloons=_optional(row, name, count, Decimal(limits.balloons), "give how many balloons"),
        sag=length(row, name, "sag", limits.height_ft),
    )


def _optional(row: Mapping[str, Any], name: str, key: str, most: Decimal, remedy: str) -> Between | None:
    if row.get(key) is None:
        return None
    return between(row[key], f"{name}.{key}", most=most, remedy=remedy, above_zero=True)


def _count(row: Mapping[str, Any], name: str, piece: Piece, book: PriceBook, assumed: list[Assumed]) -> Between:
    value = row.get("count")
    if value is None:
        usual = piece.unknown_count or exactly(ONE)
        if usual.open:
            why = f"{piece.label}: how many is not said, {usual.low} to {usual.high}"
            assumed.append(Assumed("pieces", int(usual.likely), why))
        return usual
    most = book.prices.limits.count
    remedy = f"give how many, a whole number from 1 to {most}"
    count = between(value, f"{name}.count", most=Decimal(most), remedy=remedy, above_zero=True)
    if any(end != int(end) for end in (count.low, count.high)):
        raise FactWrong(f"{name}.count: {value!r:.40} is no whole number: {remedy}")
    return Between(count.low, Decimal(int(count.likely)), count.high)


def _shown(units: Between) -> Any:
    values = [round(float(value), 1) for value in (units.low, units.likely, units.high)]
    return values if units.open else values[1]
