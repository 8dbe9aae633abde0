"""One job as it is priced: pieces with their sizes, and each further fact with all the values it may have."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Generic, NamedTuple, TypeVar

from assistant.pricing.dates import DatePrice
from assistant.pricing.given import Given
from assistant.pricing.measures import Size
from assistant.pricing.number_types import Day
from assistant.pricing.recipes import Piece, Work
from assistant.pricing.unknowns import Between, Density, SettingWord

T = TypeVar("T")
Stock = Mapping[str, Mapping[str, int]]  # whole balloons in hand by nominal size (inches) and colour


@dataclass(frozen=True)
class Assumed:
    """A value that was priced although nobody stated it, and why."""

    fact: str
    value: Any
    why: str

    def to_json(self) -> dict[str, Any]:
        """Return the contract's shape."""
        return {"fact": self.fact, "value": self.value, "why": self.why}


@dataclass(frozen=True)
class Choice(Generic[T]):
    """A fact that takes one of a few values: all that are possible, and the likeliest."""

    options: tuple[T, ...]
    likely: T

    @property
    def open(self) -> bool:
        """Tell whether more than one value is possible."""
        return len(self.options) > 1


@dataclass(frozen=True)
class JobPiece:
    """One piece of a job (or several alike): its rules, its size and how many."""

    kind: str
    piece: Piece
    work: Work
    size: Size
    count: Between
    mount: str | None = None

    @property
    def runs(self) -> bool:
        """Tell whether its measure is a length in feet."""
        return self.work.unit == "ft"


@dataclass(frozen=True)
class Job:
    """Everything that is priced, each fact with its ends or options."""

    pieces: tuple[JobPiece, ...]
    pieces_said: bool
    density: Choice[Density]
    setting: Choice[SettingWord]
    mirror: Between
    doubled: Between
    finish_fact: str
    miles: Between
    miles_fact: str
    strike: Choice[bool]
    stand: Choice[bool]
    accents: Choice[bool]
    client_only_colour: Choice[bool]
    crew: int | None
    date: Choice[DatePrice]
    today: Day
    event_day: Day | None
    late_strike: int | None
    pick_up: bool
    window_minutes: Decimal | None
    long_carry: bool
    discount: str | None
    stock: Stock | None
    colours: tuple[str, ...]
    colour_shares: tuple[Decimal, ...]
    budget: Between | None
    assumed: tuple[Assumed, ...]

    @property
    def days_off(self) -> int | None:
        """Return the days from asking to the event, None where its day is not known."""
        return None if self.event_day is None else (self.event_day - self.today).days

    @property
    def site_visit(self) -> bool:
        """Tell whether the room is looked at first, on a visit of its own."""
        return not self.pick_up and any(piece.work.site_visit for piece in self.pieces)


class Scenario(NamedTuple):
    """One value for each fact of a job: what one price is worked out from. ``own`` scales the studio's own figures.

    A tuple, because a range makes dozens of them.
    """

    units: tuple[Decimal, ...]
    heights: tuple[Decimal | None, ...]
    counts: tuple[Decimal, ...]
    density: Density
    setting: SettingWord
    mirror: Decimal
    doubled: Decimal
    miles: Decimal
    strike: bool
    stand: bool
    accents: bool
    client_only_colour: bool
    date: DatePrice
    own: Decimal = Decimal(1)


def note_inferred(name: str, fact: Given, assumed: list[Assumed]) -> None:
    """Add to ``assumed`` a fact that is only likely, so that it is confirmed in passing."""
    if fact.status == "inferred":
        assumed.append(Assumed(name, fact.value, "likely from the client's words; confirm in passing"))
