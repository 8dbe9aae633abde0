"""What is priced where a fact is not known: the two ends and the likeliest value, decided by the studio."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Literal

from annotated_types import Ge, Le

STRICT = {"extra": "forbid"}
Density = Literal["light", "standard", "lush"]
SettingWord = Literal["indoor", "covered", "outdoor"]
Part = Annotated[Decimal, Ge(0), Le(1)]


@dataclass(frozen=True)
class Between:
    """A number known only by its ends and its likeliest value; low <= likely <= high."""

    __pydantic_config__ = STRICT
    low: Annotated[Decimal, Ge(0)]
    likely: Annotated[Decimal, Ge(0)]
    high: Annotated[Decimal, Ge(0)]

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"low {self.low}, likely {self.likely}, high {self.high} are not in order: sort them")

    @property
    def open(self) -> bool:
        """Tell whether more than one value is possible."""
        return self.low < self.high


def exactly(value: Decimal) -> Between:
    """Return a number that is known."""
    return Between(value, value, value)


@dataclass(frozen=True)
class OneOf:
    """A yes or no, open when ``options`` holds both."""

    __pydantic_config__ = STRICT
    options: list[bool]
    likely: bool

    def __post_init__(self) -> None:
        if self.likely not in self.options:
            raise ValueError("likely is not among the options: add it there")


@dataclass(frozen=True)
class DensityUnknown:
    """The densities priced when none is given."""

    __pydantic_config__ = STRICT
    options: list[Density]
    likely: Density

    def __post_init__(self) -> None:
        if self.likely not in self.options:
            raise ValueError("likely is not among the options: add it there")


@dataclass(frozen=True)
class SettingUnknown:
    """The settings priced when none is given."""

    __pydantic_config__ = STRICT
    options: list[SettingWord]
    likely: SettingWord

    def __post_init__(self) -> None:
        if self.likely not in self.options:
            raise ValueError("likely is not among the options: add it there")


@dataclass(frozen=True)
class FinishUnknown:
    """The shares of balloons priced in each finish when neither finish nor colours are given."""

    __pydantic_config__ = STRICT
    mirror: Between
    doubled: Between

    def __post_init__(self) -> None:
        if self.mirror.high + self.doubled.high > 1:
            raise ValueError("mirror and doubled are together more than all balloons: keep their high ends within 1")


@dataclass(frozen=True)
class Unknowns:
    """What is priced for each fact that is not known."""

    __pydantic_config__ = STRICT
    piece: str
    place_not_said: Between
    place_not_found: Between
    setting: SettingUnknown
    density: DensityUnknown
    finish: FinishUnknown
    strike: OneOf
    stand: OneOf
    accents: OneOf
    client_only_colour: OneOf
