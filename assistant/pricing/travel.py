"""The part of prices.yaml on the road: mileage, speed by distance, and how miles follow from a place."""

from dataclasses import dataclass
from decimal import Decimal
from itertools import pairwise
from typing import Annotated

from annotated_types import MinLen

from assistant.pricing.number_types import STRICT, Factor, NotNegative, Positive


@dataclass(frozen=True)
class Speed:
    """The average speed of a one-way trip of so many miles."""

    __pydantic_config__ = STRICT
    miles: NotNegative
    mph: Positive


@dataclass(frozen=True)
class Zone:
    """What each visit within so many one-way miles costs the client, instead of miles and hours."""

    __pydantic_config__ = STRICT
    within_miles: Positive
    fee: NotNegative


@dataclass(frozen=True)
class Travel:
    """Mileage, speed by distance, and how miles follow from a ZIP code or town."""

    __pydantic_config__ = STRICT
    per_mile: NotNegative
    studio_zip: str
    road_factor: Factor
    speed: Annotated[list[Speed], MinLen(1)]
    zones: list[Zone]
    designer_beyond_miles: Positive
    most_miles: Positive

    def __post_init__(self) -> None:
        for near, far in pairwise(self.speed):
            if near.miles >= far.miles or near.miles / near.mph > far.miles / far.mph:
                raise ValueError(
                    f"speed: a trip of {far.miles} miles at {far.mph} mph is not longer in miles and time than the "
                    "row before it: sort the rows by miles and lower the speed"
                )

        for near_zone, far_zone in pairwise(self.zones):
            if near_zone.within_miles >= far_zone.within_miles or near_zone.fee > far_zone.fee:
                raise ValueError(
                    f"zones: the zone within {far_zone.within_miles} miles is not farther and at least as dear as the "
                    "row before it: sort the rows by miles and raise the fee"
                )

    def zone(self, miles: Decimal) -> int | None:
        """Return the row of the zone that ``miles`` lie in; None beyond the last one and where there are none."""
        return next((i for i, zone in enumerate(self.zones) if miles <= zone.within_miles), None)

    def hours(self, miles: Decimal) -> Decimal:
        """Return the hours of a one-way trip; the speed runs straight from one row to the next."""
        rows = self.speed
        if miles <= rows[0].miles:
            return miles / rows[0].mph
        for near, far in pairwise(rows):
            if miles <= far.miles:
                part = (miles - near.miles) / (far.miles - near.miles)
                return miles / (near.mph + part * (far.mph - near.mph))
        return miles / rows[-1].mph
