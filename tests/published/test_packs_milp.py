"""Bags to buy against a table and against integer programming (scipy.optimize.milp)."""

from decimal import Decimal

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from assistant.pricing.packs import Bag, cheapest_bags

OFFER = (Bag(100, Decimal("18.99")), Bag(50, Decimal("10.99")), Bag(25, Decimal("6.49")))


def least_cost(needed, bags):
    """Least cost in cents by scipy's integer programme."""
    prices = np.array([int(bag.price * 100) for bag in bags])
    covers = LinearConstraint(np.array([[bag.count for bag in bags]]), lb=needed)
    found = milp(prices, constraints=covers, integrality=np.ones(len(bags)), bounds=Bounds(lb=0))
    return round(found.fun)


@pytest.mark.parametrize(
    ("needed", "numbers", "cost"),
    [
        (0, (0, 0, 0), "0"),
        (1, (0, 0, 1), "6.49"),
        (25, (0, 0, 1), "6.49"),
        (26, (0, 1, 0), "10.99"),
        (50, (0, 1, 0), "10.99"),
        (51, (0, 1, 1), "17.48"),
        (76, (1, 0, 0), "18.99"),
        (100, (1, 0, 0), "18.99"),
        (101, (1, 0, 1), "25.48"),
        (130, (1, 1, 0), "29.98"),
        (151, (1, 1, 1), "36.47"),
        (201, (2, 0, 1), "44.47"),
        (260, (2, 1, 1), "55.46"),
    ],
)
def test_the_table_of_bags_of_100_50_and_25(needed, numbers, cost):
    """Values by scipy.optimize.milp and by a constraint solver, bags at 18.99, 10.99 and 6.49."""
    bought = cheapest_bags(needed, OFFER)
    assert bought.cost == Decimal(cost)
    assert dict(bought.bags) == {bag: n for bag, n in zip(OFFER, numbers, strict=True) if n}
    assert bought.left == sum(bag.count * n for bag, n in bought.bags) - needed >= 0
    assert int(bought.cost * 100) == least_cost(needed, OFFER)


bags = st.builds(Bag, st.integers(1, 120), st.decimals("0.05", "60", places=2))


@settings(max_examples=40, deadline=None)
@given(st.integers(1, 400), st.lists(bags, min_size=1, max_size=4))
def test_any_offer_is_bought_as_cheaply_as_integer_programming_finds(needed, offer):
    bought = cheapest_bags(needed, offer)
    assert sum(bag.count * n for bag, n in bought.bags) >= needed
    assert sum(bag.price * n for bag, n in bought.bags) == bought.cost
    assert int(bought.cost * 100) == least_cost(needed, offer)


def test_a_bag_that_holds_nothing_is_refused():
    with pytest.raises(ValueError, match="mend the bag sizes"):
        cheapest_bags(3, (Bag(0, Decimal(1)),))
