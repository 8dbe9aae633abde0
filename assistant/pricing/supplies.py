"""The supply list: whole balloons by size and colour, and the bags to buy. The price itself counts expected use."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_CEILING, Decimal
from typing import Any

from assistant.pricing.apportionment import apportion
from assistant.pricing.book import PriceBook
from assistant.pricing.colours import finish_of
from assistant.pricing.job import Job, Scenario, Stock
from assistant.pricing.labour import setting_of
from assistant.pricing.money import ONE, cents
from assistant.pricing.packs import Bag, Purchase, cheapest_bags
from assistant.pricing.recipes import Work

OPEN_COLOUR = "colour open"
Balloons = Mapping[str, Mapping[str, int]]


@dataclass(frozen=True)
class Pack:
    """What one size in one colour needs: taken from the stock in hand, the rest bought, and what is left over."""

    size: str
    colour: str
    needed: int
    purchase: Purchase
    from_stock: int = 0
    in_stock: int = 0

    def to_json(self) -> dict[str, Any]:
        """Return the contract's shape; money in cents. ``left`` counts the bags bought, ``stock_left`` the shelf."""
        bags = [{"count": bag.count, "number": number} for bag, number in self.purchase.bags]
        return {
            "size": f"{self.size} in",
            "colour": self.colour,
            "needed": self.needed,
            "from_stock": self.from_stock,
            "bags": bags,
            "cost": cents(self.purchase.cost),
            "left": self.purchase.left,
            "stock_left": self.in_stock - self.from_stock,
        }


def balloons(job: Job, at: Scenario, book: PriceBook) -> dict[str, dict[str, int]]:
    """Return whole balloons by size and colour, waste included; a doubled balloon counts as two."""
    colours, shares = job.colours or (OPEN_COLOUR,), job.colour_shares or (ONE,)
    result = {}
    for size, needed in sorted(_expected(job, at, book).items(), key=lambda row: Decimal(row[0])):
        total = int(needed.to_integral_value(ROUND_CEILING))
        split = apportion(total, shares)
        result[size] = {colour: n for colour, n in zip(colours, split, strict=True) if n}
    return {size: by_colour for size, by_colour in result.items() if by_colour}


def packs(wanted: Balloons, stock: Stock | None, book: PriceBook) -> tuple[Pack, ...]:
    """Return for each size and colour what the stock in hand gives and the least-cost bags for the rest."""
    return tuple(
        _pack(size, colour, needed, (stock or {}).get(size, {}).get(colour, 0), book)
        for size, by_colour in wanted.items()
        for colour, needed in by_colour.items()
    )


def _pack(size: str, colour: str, needed: int, in_stock: int, book: PriceBook) -> Pack:
    taken = min(needed, in_stock)
    return Pack(size, colour, needed, cheapest_bags(needed - taken, _bags(size, colour, book)), taken, in_stock)


def _expected(job: Job, at: Scenario, book: PriceBook) -> dict[str, Decimal]:
    totals: dict[str, Decimal] = {}
    for piece, units, count in zip(job.pieces, at.units, at.counts, strict=True):
        build = piece.work.build(at.density)
        each = _balloons_for_one(piece.work, at, book)
        times = units * count / build.for_units * book.taught(piece.kind).balloons * each
        for size, n in build.balloons.items():
            totals[size] = totals.get(size, Decimal(0)) + n * times
    return totals


def _balloons_for_one(work: Work, at: Scenario, book: PriceBook) -> Decimal:
    """Return how many balloons one place in the recipe takes, waste and doubling included."""
    waste = setting_of(at, book).waste if work.waste is None else work.waste
    mirror = max(waste, book.prices.finishes.mirror.supply_waste)
    doubled = max(waste, book.prices.finishes.doubled.supply_waste)
    plain = ONE - at.mirror - at.doubled
    return plain * (ONE + waste) + at.mirror * (ONE + mirror) + 2 * at.doubled * (ONE + doubled)


def _bags(size: str, colour: str, book: PriceBook) -> tuple[Bag, ...]:
    offers = book.prices.balloons[size].offers()
    if finish_of(colour, book.prices.finish_words) != "mirror":
        return offers
    return tuple(Bag(bag.count, bag.price * book.prices.finishes.mirror.latex) for bag in offers)
