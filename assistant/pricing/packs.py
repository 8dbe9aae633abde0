"""Which bags to buy: the cheapest set that holds at least what is needed, found exactly."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache


@dataclass(frozen=True)
class Bag:
    """A bag of balloons as the supplier sells it: how many are in it and what it costs."""

    count: int
    price: Decimal


@dataclass(frozen=True)
class Purchase:
    """How many of each bag to buy, in the order of the bags offered, what that costs and what is left over."""

    bags: tuple[tuple[Bag, int], ...]
    cost: Decimal
    left: int


def cheapest_bags(needed: int, bags: Sequence[Bag]) -> Purchase:
    """Return the least-cost purchase of at least ``needed`` balloons (an exact dynamic programme).

    Of equally cheap purchases the one that starts with the bag offered first is taken.
    """
    return _cheapest(needed, tuple(bags))


@lru_cache(maxsize=4096)
def _cheapest(needed: int, bags: tuple[Bag, ...]) -> Purchase:
    if needed < 0 or not bags or any(bag.count < 1 for bag in bags):
        raise ValueError("bags hold at least one balloon and the need is at least 0: mend the bag sizes")
    costs: list[Decimal] = [Decimal(0)]
    chosen: list[int] = [-1]
    for n in range(1, needed + 1):
        cost, pick = min((costs[max(0, n - bag.count)] + bag.price, i) for i, bag in enumerate(bags))
        costs.append(cost)
        chosen.append(pick)
    numbers = [0] * len(bags)
    n = needed
    while n > 0:
        numbers[chosen[n]] += 1
        n -= bags[chosen[n]].count
    bought = tuple((bag, number) for bag, number in zip(bags, numbers, strict=True) if number)
    return Purchase(bought, costs[needed], sum(bag.count * number for bag, number in bought) - needed)
