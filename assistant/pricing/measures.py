"""Measures of one piece: as the client said them, as they are priced, and in words."""

from dataclasses import dataclass
from decimal import Decimal

from assistant.pricing.unknowns import Between


@dataclass(frozen=True)
class Said:
    """The measures of one piece as the client gave them; None is not said."""

    length: Between | None = None
    width: Between | None = None
    height: Between | None = None
    size: str | None = None
    spot: str | None = None
    share: Between | None = None
    way: str | None = None
    steps: Between | None = None
    landing: Between | None = None
    sag: Between | None = None
    balloons: Between | None = None


@dataclass(frozen=True)
class Size:
    """A piece's measure and its height above the floor, and why they were taken where they do not follow from words.

    ``mount`` is what holds the piece where the spot says it.
    """

    units: Between
    height: Between | None
    why: tuple[str, ...] = ()
    mount: str | None = None


def times(feet: Between, by: Between) -> Between:
    """Return both ends and the likely value multiplied."""
    return Between(feet.low * by.low, feet.likely * by.likely, feet.high * by.high)


def in_feet(length: float) -> Decimal:
    """Return a length from plain geometry, to a ten-thousandth of a foot."""
    return Decimal(repr(length)).quantize(Decimal("0.0001"))


def short(measure: Decimal) -> str:
    """Return a measure to a tenth, without a needless point."""
    return f"{float(round(measure, 1)):g}"


def shown_feet(feet: Between) -> str:
    """Return a length in words."""
    return f"{short(feet.low)} to {short(feet.high)} ft" if feet.open else f"{short(feet.likely)} ft"
