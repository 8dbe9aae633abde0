"""The price range as a picture: places on a line from the lowest figure to the highest."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

WIDTH, MARGIN = 320.0, 14.0


@dataclass(frozen=True)
class RangePicture:
    """Places (in picture units, 0 to WIDTH) of the range's figures; None where there is no such figure."""

    low: float
    likely: float
    high: float
    floor: float | None
    budget_low: float | None
    budget_high: float | None


def draw(quote: Mapping[str, Any], budget: tuple[int | None, int | None] | None) -> RangePicture | None:
    """Return where the figures of a quote stand; ``budget`` is in minor units, as the quote is.

    None when the quote has no range.
    """
    figures = [quote.get(name) for name in ("low", "likely", "high")]
    if not all(isinstance(figure, int) for figure in figures):
        return None
    low, likely, high = (int(figure or 0) for figure in figures)
    floor = quote.get("floor") if isinstance(quote.get("floor"), int) else None
    ends = budget or (None, None)
    known = [figure for figure in (low, high, floor, *ends) if figure is not None]
    first, last = min(known), max(known)
    spare = max(last - first, 1) // 8 + 1  # so that an open end of the budget has a length to show
    first -= spare if budget and ends[0] is None else 0
    last += spare if budget and ends[1] is None else 0
    room = max(last - first, 1)

    def place(figure: int | None) -> float | None:
        return None if figure is None else round(MARGIN + (WIDTH - 2 * MARGIN) * (figure - first) / room, 1)

    return RangePicture(
        low=place(low) or 0.0,
        likely=place(likely) or 0.0,
        high=place(high) or 0.0,
        floor=place(floor),
        budget_low=place(ends[0]),
        budget_high=place(ends[1]),
    )
