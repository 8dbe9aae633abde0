"""The shape of rules/pieces.yaml: how a piece is built, and how its size follows from what was said."""

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Annotated, Literal

from annotated_types import Ge, Le, MinLen

from assistant.pricing.number_types import STRICT, Day, Factor, NotNegative, Positive
from assistant.pricing.unknowns import Between, Density, exactly

Outline = Literal[
    "run", "swag", "arch", "frame_arch", "square_frame", "half_arch", "hoop", "height", "area", "cover", "each"
]
NOTHING = exactly(Decimal(0))
RUNNING = ("run", "swag", "arch", "frame_arch", "square_frame", "half_arch")


@dataclass(frozen=True)
class Build:
    """Balloons by size and one person's build minutes for ``for_units`` units (feet, square feet or pieces).

    ``parts`` is what else goes in, with its cost; ``helium_cubic_ft`` the gas for what floats. ``floats`` counts that
    by the chart of gas.yaml, ``treated`` says that it is treated to float longer, ``one_weight`` that all the units
    hang on one weight.
    """

    __pydantic_config__ = STRICT
    balloons: Annotated[dict[str, NotNegative], MinLen(1)]
    minutes: NotNegative
    for_units: Positive = Decimal(1)
    parts: dict[str, NotNegative] = field(default_factory=dict)
    helium_cubic_ft: NotNegative = Decimal(0)
    floats: dict[str, NotNegative] = field(default_factory=dict)
    treated: bool = False
    one_weight: bool = False


@dataclass(frozen=True)
class Extra:
    """Something bought for each piece besides latex (a topper, foil, ribbon)."""

    __pydantic_config__ = STRICT
    name: str
    cost: NotNegative


@dataclass(frozen=True)
class Work:
    """A way of building: by density its recipe, then install minutes and what each piece uses up.

    ``counted`` work is priced balloon by balloon, without waste; spares still stand on the supply list. ``waste`` is
    the work's own waste in any setting; ``take_down_minutes_per_unit`` what clearing up takes besides the usual;
    ``height_included`` says that the install minutes are those of work at height already.
    """

    __pydantic_config__ = STRICT
    unit: str
    builds: Annotated[dict[Density, Build], MinLen(1)]
    install_minutes: NotNegative
    install_minutes_per_unit: NotNegative
    consumables: NotNegative
    accents: NotNegative
    stand: NotNegative
    client_only_colour: NotNegative
    hardware: NotNegative = Decimal(0)
    extras: list[Extra] = field(default_factory=list)
    comes_back: bool = False
    indoors_only: bool = False
    counted: bool = False
    crew_at_least: Annotated[int, Ge(1)] = 1
    waste: Annotated[Decimal, Ge(0), Le(1)] | None = None
    take_down_minutes_per_unit: NotNegative = Decimal(0)
    site_visit: bool = False
    height_included: bool = False

    def __post_init__(self) -> None:
        if "standard" not in self.builds:
            raise ValueError("builds has no 'standard': add it, it is what is built when no density is named")

    @property
    def can_be_picked_up(self) -> bool:
        """Tell whether a client can take it away and set it up alone."""
        return self.crew_at_least == 1 and not self.indoors_only

    def build(self, density: Density) -> Build:
        """Return the recipe of a density; work that has one recipe only uses it for all."""
        return self.builds.get(density) or self.builds["standard"]


@dataclass(frozen=True)
class Piece:
    """A piece clients ask for: its name on the quote, how it is built, and its size where that is not said."""

    __pydantic_config__ = STRICT
    label: str
    work: str
    outline: Outline
    cautions: list[str]
    unknown_size: dict[str, Between] = field(default_factory=dict)
    named_sizes: dict[str, Positive] = field(default_factory=dict)
    unknown_count: Between | None = None
    big: bool = False
    count_names_units: bool = False


@dataclass(frozen=True)
class NeedsDesigner:
    """A piece without a recipe yet, and what the designer needs to price it."""

    __pydantic_config__ = STRICT
    label: str
    needs: str


@dataclass(frozen=True)
class Way:
    """One way a garland goes round a spot: how many of its heights and widths it follows, and the feet it adds."""

    __pydantic_config__ = STRICT
    words: str
    across: NotNegative
    ups: NotNegative = Decimal(0)
    adds: Between = NOTHING


@dataclass(frozen=True)
class Spot:
    """Where a garland goes (a table, a door): its usual measures in feet, the ways to go, and the usual one."""

    __pydantic_config__ = STRICT
    width_ft: Between
    ways: Annotated[dict[str, Way], MinLen(1)]
    usual: str
    height_ft: Between = NOTHING
    also: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        if self.usual not in self.ways:
            raise ValueError(f"usual names '{self.usual}', no way: name one of {', '.join(self.ways)}")


@dataclass(frozen=True)
class Stairs:
    """A flight of stairs: its usual steps, the rise and run of one in inches, and how much longer a swagged run is."""

    __pydantic_config__ = STRICT
    steps: Annotated[int, Ge(1)]
    rise_inches: Positive
    run_inches: Positive
    swagged: Factor
    mount: str
    also: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Outlines:
    """What the outlines assume: a corner's radius, the shares of a hoop, a run from a single width or height."""

    __pydantic_config__ = STRICT
    corner_radius_ft: NotNegative
    sag_share: Between
    hoop_share: Between
    ceiling_share: Between
    run_by_width: Between
    run_by_height: Between
    stairs: Stairs
    spots: dict[str, Spot]

    def spot(self, word: str) -> Spot | None:
        """Return the spot that ``word`` names, or one that is also called so."""
        found = (spot for name, spot in self.spots.items() if word == name or word in spot.also)
        return next(found, None)

    def spot_words(self) -> list[str]:
        """Return every word that names a spot."""
        spots = [word for name, spot in self.spots.items() for word in (name, *spot.also)]
        return [*spots, "stairs", *self.stairs.also]


@dataclass(frozen=True)
class Pieces:
    """All of pieces.yaml, with the day its figures hold from and where they come from."""

    __pydantic_config__ = STRICT
    valid_from: Day
    source: str
    work: dict[str, Work]
    pieces: dict[str, Piece]
    designer_decides: dict[str, NeedsDesigner]
    variants: dict[str, dict[str, str]]
    shape_not_said: dict[str, Annotated[list[str], MinLen(1)]]
    outlines: Outlines

    def __post_init__(self) -> None:
        for kind, piece in self.pieces.items():
            if piece.work not in self.work:
                known = ", ".join(self.work)
                raise ValueError(f"pieces.{kind}.work names '{piece.work}', not found: known are {known}")
        for kind, open_shapes in self.shape_not_said.items():
            for shape in open_shapes:
                if shape not in self.variants.get(kind, {}):
                    raise ValueError(f"shape_not_said.{kind} names '{shape}', no shape: name one of variants.{kind}")
        for kind, shapes in self.variants.items():
            for shape, target in shapes.items():
                if target not in self.pieces:
                    raise ValueError(f"variants.{kind}.{shape} names '{target}', no piece: name one of pieces")
