"""From a priced job to what it takes of the calendar: its hours, and the things taken along."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from math import ceil
from typing import Any

from assistant.availability.needs import Needs, needs_of_hours
from assistant.availability.rules import CalendarRules
from assistant.availability.rules_resources import Take

Piece = Mapping[str, Any]
_MEASURES = ("length_ft", "width_ft", "height_ft")


def needs_of_quote(quote: Mapping[str, Any], pieces: Sequence[Piece], rules: CalendarRules) -> Needs:
    """Return what a job takes, from the quote as `assistant price` prints it and the pieces asked for.

    Helpers count where the studio has more than one person; a sole designer's helper is hired and brings hours of
    her own.
    """
    helper = quote.get("crew", {}).get("helper_hours", 0) if rules.file.crew > 1 else 0
    return needs_of_hours(
        quote["hours"],
        buffer=rules.file.default_job.buffer_hours,
        helper=helper,
        takes=takes_of(pieces, rules),
    )


def takes_of(pieces: Sequence[Piece], rules: CalendarRules) -> dict[str, int]:
    """Return how much of each resource the pieces take along, rounded up."""
    sums: dict[str, Decimal] = {}
    for piece in pieces:
        kind, shape = str(piece.get("kind", "")), str(piece.get("shape", ""))
        for name, take in (rules.file.takes.get(f"{kind} {shape}") or rules.file.takes.get(kind, {})).items():
            sums[name] = sums.get(name, Decimal(0)) + _amount(take, piece) * _count(piece)
    return {name: ceil(amount) for name, amount in sums.items() if amount}


def shorter(pieces: Sequence[Piece], share: Decimal) -> list[dict[str, Any]]:
    """Return the pieces with every measure times a share; a piece without measures stays as it is."""
    return [{**piece, **{name: _times(piece[name], share) for name in _MEASURES if name in piece}} for piece in pieces]


def largest_ft(piece: Piece) -> Decimal | None:
    """Return the longest measure of a piece that was named, or None."""
    named = [_upper(piece.get(name)) for name in _MEASURES]
    return max((feet for feet in named if feet is not None), default=None)


def _amount(take: Take, piece: Piece) -> Decimal:
    length, width, height = (_upper(piece.get(name)) for name in _MEASURES)
    if length is not None:
        return take.each + take.per_length_ft * length
    if width is None and height is None:
        return take.each + take.unknown
    return take.each + take.per_width_ft * (width or 0) + take.per_height_ft * (height or 0)


def _count(piece: Piece) -> int:
    count = piece.get("count", 1)
    return ceil(max(count)) if isinstance(count, Sequence) and count else int(count or 1)


def _upper(size: Any) -> Decimal | None:
    """Return the upper end of a size, which may be one number or [low, high]; a thing that may be bigger counts so."""
    ends = size if isinstance(size, Sequence) and not isinstance(size, str) else [size]
    numbers = [Decimal(str(end)) for end in ends if isinstance(end, int | float | Decimal)]
    return max(numbers, default=None)


def _times(size: Any, share: Decimal) -> Any:
    if isinstance(size, Sequence) and not isinstance(size, str):
        return [_times(end, share) for end in size]
    return float(Decimal(str(size)) * share) if isinstance(size, int | float | Decimal) else size
