"""The part of prices.yaml on balloons: sizes and bags, finishes, and what a setting adds."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from annotated_types import Ge, Le, MinLen

from assistant.pricing.number_types import STRICT, Factor, NotNegative
from assistant.pricing.packs import Bag


@dataclass(frozen=True)
class Setting:
    """What a setting adds: waste on top of the recipe, a factor on install time, ballast."""

    __pydantic_config__ = STRICT
    waste: Annotated[Decimal, Ge(0), Le(1)]
    install: Factor
    ballast: NotNegative


@dataclass(frozen=True)
class Settings:
    """The three settings a client can name."""

    __pydantic_config__ = STRICT
    indoor: Setting
    covered: Setting
    outdoor: Setting


@dataclass(frozen=True)
class Finish:
    """What a finish multiplies: the latex price and the build time; spares counts the waste on the supply list."""

    __pydantic_config__ = STRICT
    latex: Factor
    build: Factor
    supply_waste: Annotated[Decimal, Ge(0), Le(1)]


@dataclass(frozen=True)
class Finishes:
    """The finishes that cost more than plain balloons."""

    __pydantic_config__ = STRICT
    mirror: Finish
    doubled: Finish


@dataclass(frozen=True)
class BagPrice:
    """A bag as the supplier sells it."""

    __pydantic_config__ = STRICT
    count: Annotated[int, Ge(1)]
    price: NotNegative


@dataclass(frozen=True)
class BalloonPrice:
    """What one balloon of a size is charged at, and the bags it is bought in."""

    __pydantic_config__ = STRICT
    each: NotNegative
    bags: Annotated[list[BagPrice], MinLen(1)]

    def offers(self) -> tuple[Bag, ...]:
        """Return the bags as pack buying takes them."""
        return tuple(Bag(bag.count, bag.price) for bag in self.bags)


@dataclass(frozen=True)
class FinishWords:
    """Colour words that call for a finish."""

    __pydantic_config__ = STRICT
    mirror: list[str]
    doubled: list[str]
