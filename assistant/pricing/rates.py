"""The shape of rules/prices.yaml: what the studio pays, asks and assumes. Money in whole currency units, as Decimal."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated

from annotated_types import Ge, Le, MinLen

from assistant.pricing.dates import DateRates, Weekday, minutes_of_night
from assistant.pricing.goods import BalloonPrice, Finishes, FinishWords, Settings
from assistant.pricing.number_types import STRICT, Day, Factor, NotNegative, Positive, Share
from assistant.pricing.travel import Travel
from assistant.pricing.unknowns import Unknowns


@dataclass(frozen=True)
class Wages:
    """What an hour costs: the owner's wage, and a helper's with the employer's payroll share on top."""

    __pydantic_config__ = STRICT
    owner_per_hour: NotNegative
    helper_per_hour: NotNegative
    helper_payroll: Share


@dataclass(frozen=True)
class Shares:
    """What goes off the price, as shares of the price (a margin, not a markup), and the card's fixed fee."""

    __pydantic_config__ = STRICT
    overhead: Share
    profit: Share
    card_fee: Share
    card_fee_fixed: NotNegative

    def __post_init__(self) -> None:
        if self.overhead + self.profit + self.card_fee >= 1:
            raise ValueError(
                f"overhead {self.overhead}, profit {self.profit} and card_fee {self.card_fee} together take the whole "
                "price or more: keep their sum below 1"
            )


@dataclass(frozen=True)
class Visit:
    """The fixed part that several pieces of one job share."""

    __pydantic_config__ = STRICT
    talk_hours: NotNegative
    shop_hours: NotNegative
    load_hours: NotNegative
    shop_miles: NotNegative
    parking: NotNegative
    site_visit_hours: NotNegative


@dataclass(frozen=True)
class Crew:
    """When the install takes more: a ladder above a height, a second installer."""

    __pydantic_config__ = STRICT
    ladder_above_ft: Positive
    ladder_install: Factor
    mounts: dict[str, Factor]
    second_longer_than_ft: Positive
    second_higher_than_ft: Positive
    second_from_big_pieces: Annotated[int, Ge(1)]
    big_from_ft: Positive
    second_window_under_minutes: NotNegative
    window_keeps_minutes: NotNegative
    long_carry_minutes: NotNegative
    lift_above_ft: Positive
    lift_hire: NotNegative
    most: Annotated[int, Ge(1)]


@dataclass(frozen=True)
class LateStrike:
    """What a take-down from this time of the night on (HH:MM) adds to the price; six in the morning ends the night."""

    __pydantic_config__ = STRICT
    after: Annotated[str, MinLen(5)]
    adds: NotNegative

    def __post_init__(self) -> None:
        minutes_of_night(self.after)


@dataclass(frozen=True)
class RoundTo:
    """Round to ``step``; ``below`` names the price up to which the row holds, absent in the last row."""

    __pydantic_config__ = STRICT
    step: Positive
    below: Positive | None = None


@dataclass(frozen=True)
class Rounding:
    """Friendly prices: the likely one to the nearest step, the range's ends outwards."""

    __pydantic_config__ = STRICT
    likely: Annotated[list[RoundTo], MinLen(1)]
    ends: Positive
    wide_over: Positive


@dataclass(frozen=True)
class Sanity:
    """A straight line through the model's prices of a plain job indoors, and how far from it is worth a look."""

    __pydantic_config__ = STRICT
    fixed: NotNegative
    per_ft: NotNegative
    within: Share


@dataclass(frozen=True)
class Deposit:
    """What makes a booking, when it and the balance are due, and when the whole sum is due at once."""

    __pydantic_config__ = STRICT
    share: Annotated[Decimal, Ge(0), Le(1)]
    due_days: Annotated[int, Ge(0)]
    balance_days_before: Annotated[int, Ge(0)]
    all_under_days: Annotated[int, Ge(0)]
    all_under_price: NotNegative


@dataclass(frozen=True)
class Validity:
    """How many days a quote stands, and how many a large one does."""

    __pydantic_config__ = STRICT
    days: Annotated[int, Ge(0)]
    large_days: Annotated[int, Ge(0)]
    large_from: NotNegative


@dataclass(frozen=True)
class Discount:
    """A share off the price, taken out of the profit alone, for jobs asked until ``until``.

    With ``weekdays`` it holds for events on these days only.
    """

    __pydantic_config__ = STRICT
    share: Annotated[Decimal, Ge(0), Le(Decimal("0.5"))]
    until: Day
    weekdays: list[Weekday] | None = None


@dataclass(frozen=True)
class PickUp:
    """What the client fetches at the studio: the smallest order, and the longest run that goes into a car."""

    __pydantic_config__ = STRICT
    minimum_order: NotNegative
    longest_ft: Positive


@dataclass(frozen=True)
class UncertaintyStep:
    """How far the studio's own figures may be off while it has fewer than so many finished jobs on record."""

    __pydantic_config__ = STRICT
    share: Annotated[Decimal, Ge(0), Le(Decimal("0.9"))]
    fewer_than: Annotated[int, Ge(1)] | None = None


@dataclass(frozen=True)
class Tax:
    """Rates by kind of line; null is off, as long as the studio's accountant has not filled them in."""

    __pydantic_config__ = STRICT
    goods: Share | None
    rental: Share | None
    labour: Share | None
    delivery: Share | None
    strike: Share | None


@dataclass(frozen=True)
class Limits:
    """The largest sizes a fact may name; beyond them it is taken for a slip."""

    __pydantic_config__ = STRICT
    balloons: Annotated[int, Ge(1)]
    length_ft: Positive
    width_ft: Positive
    height_ft: Positive
    count: Annotated[int, Ge(1)]
    pieces: Annotated[int, Ge(1)]


@dataclass(frozen=True)
class Prices:
    """All of prices.yaml, with the day its figures hold from and where they come from."""

    __pydantic_config__ = STRICT
    valid_from: Day
    source: str
    currency: str
    wages: Wages
    shares: Shares
    visit: Visit
    travel: Travel
    settings: Settings
    finishes: Finishes
    balloons: dict[str, BalloonPrice]
    helium_per_cubic_ft: NotNegative
    crew: Crew
    strike_hours: NotNegative
    late_strike: list[LateStrike]
    minimum_order: NotNegative
    pick_up: PickUp
    discounts: dict[str, Discount]
    validity: Validity
    dates: DateRates
    rounding: Rounding
    sanity: Sanity
    deposit: Deposit
    uncertainty: Annotated[list[UncertaintyStep], MinLen(1)]
    tax: Tax
    colour_shares: dict[str, list[NotNegative]]
    finish_words: FinishWords
    unknown: Unknowns
    limits: Limits

    def __post_init__(self) -> None:
        for count, shares in self.colour_shares.items():
            if not count.isdigit() or len(shares) != int(count) or sum(shares) != 1:
                raise ValueError(f"colour_shares.{count} is not {count} shares that add up to 1: write {count} shares")
        if self.uncertainty[-1].fewer_than is not None or self.rounding.likely[-1].below is not None:
            raise ValueError("the last row of uncertainty and of rounding.likely holds for the rest: drop its limit")

    def own_uncertainty(self, jobs: int) -> Decimal:
        """Return how far the studio's own hours and balloon counts may be off with ``jobs`` finished jobs on record."""
        for step in self.uncertainty[:-1]:
            if step.fewer_than is not None and jobs < step.fewer_than:
                return step.share
        return self.uncertainty[-1].share
