"""The price book: everything the studio decided about prices, with the file and line of each figure."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from assistant.pricing.gas_rules import GasRules
from assistant.pricing.rates import Prices
from assistant.pricing.recipes import Piece, Pieces, Work

STRICT = {"extra": "forbid"}
RulePath = tuple[str | int, ...]
Miles = Decimal
ONE = Decimal(1)


class DesignerDecides(ValueError):
    """A job the rules cannot price; the text names the piece and what the designer needs to price it."""


@dataclass(frozen=True)
class Caution:
    """One caution in plain words."""

    __pydantic_config__ = STRICT
    text: str


@dataclass(frozen=True)
class Cautions:
    """All of cautions.yaml: the cautions by name, and the sentence on who decides that each ends with."""

    __pydantic_config__ = STRICT
    who_decides: str
    cautions: dict[str, Caution]

    def __post_init__(self) -> None:
        missing = {"wind", "ladder", "soon", "far", "returns"} - self.cautions.keys()
        if missing:
            raise ValueError(f"cautions lacks {', '.join(sorted(missing))}: add it, facts of a job call for it")


@dataclass(frozen=True)
class Learned:
    """What finished jobs of one piece taught: factors on the book's figures, and how many jobs they rest on."""

    build: Decimal = ONE
    install: Decimal = ONE
    balloons: Decimal = ONE
    jobs: int = 0


UNTAUGHT = Learned()


def nowhere(_place: str) -> Miles | None:
    """Know no place: miles must be given."""
    return None


@dataclass(frozen=True)
class PriceBook:
    """Prices, recipes and cautions; ``lines`` holds the line of each key, ``road_miles`` turns a place into miles."""

    prices: Prices
    pieces: Pieces
    cautions: Cautions
    gas: GasRules
    version: str
    lines: Mapping[str, Mapping[RulePath, int]] = field(repr=False, default_factory=dict)
    road_miles: Callable[[str], Miles | None] = field(repr=False, default=nowhere)
    learned: Mapping[str, Learned] = field(default_factory=dict)

    def piece(self, kind: str, shape: str | None = None) -> tuple[str, Piece]:
        """Return a piece's name in the book and its rules; ``shape`` picks a variant such as a half arch.

        Raises DesignerDecides for a piece without a recipe and ValueError for one that nobody knows.
        """
        variants = self.pieces.variants.get(kind, {})
        if shape is not None and shape not in variants:
            known = ", ".join(variants) or "none"
            raise ValueError(f"{kind}: the shape '{shape}' is not known: known are {known}; or leave it out")
        kind = variants[shape] if shape is not None else kind
        if kind in self.pieces.pieces:
            return kind, self.pieces.pieces[kind]
        if kind in self.pieces.designer_decides:
            row = self.pieces.designer_decides[kind]
            raise DesignerDecides(f"{row.label} has no recipe here, the designer prices it: needed are {row.needs}")
        known = ", ".join([*self.pieces.pieces, *self.pieces.designer_decides])
        raise ValueError(f"the piece '{kind}' is not known: write one of {known}")

    def work(self, piece: Piece) -> Work:
        """Return how a piece is built."""
        return self.pieces.work[piece.work]

    def taught(self, kind: str) -> Learned:
        """Return what finished jobs of this piece taught."""
        return self.learned.get(kind, UNTAUGHT)

    def where(self, file: str, *path: str | int) -> str:
        """Return ``file:line`` of a figure, or of its nearest parent that stands in the file."""
        lines = self.lines.get(file, {})
        while path and path not in lines:
            path = path[:-1]
        return f"{file}:{lines.get(path, 1)}"
