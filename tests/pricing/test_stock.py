"""Stock in hand: what is taken from the shelf, what is bought, and what a client's own colour costs."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.pricing import FactWrong, Learned
from assistant.pricing.packs import cheapest_bags
from tests.pricing.jobs import book, garland, priced

FULL = {size: {"blush": 1000, "gold": 1000, "white": 1000} for size in ("5", "11", "17", "24")}


def rest(quote):
    return sum(entry.amount for entry in quote.priced.likely.costing.entries if "rest of" in entry.what)


def test_what_is_in_stock_is_not_bought():
    """14 ft takes 77 of 11 in: 46 blush, 23 gold, 8 white."""
    quote = priced(garland(stock={"11": {"blush": 20, "gold": 500}}))
    rows = {pack.colour: pack.to_json() for pack in quote.packs if pack.size == "11"}
    assert rows["blush"] == {
        "size": "11 in", "colour": "blush", "needed": 46, "from_stock": 20, "bags": [{"count": 50, "number": 1}],
        "cost": 1050, "left": 24, "stock_left": 0,
    }  # fmt: skip
    assert (rows["gold"]["bags"], rows["gold"]["cost"], rows["gold"]["stock_left"]) == ([], 0, 477)
    assert (rows["white"]["from_stock"], rows["white"]["left"]) == (0, 42)


def test_stock_colours_are_charged_by_what_is_used():
    in_stock, flat = priced(garland(stock=FULL)), priced(garland())
    assert rest(in_stock) == 0
    assert flat.priced.likely.sums.direct - in_stock.priced.likely.sums.direct == rest(flat) == 16


def test_a_colour_for_this_client_alone_is_charged_by_the_bag():
    """White is a tenth of the balloons: 10.01, 7.7, 1.848 and .385 of the four sizes; smallest bags 50, 50, 25, 5."""
    stock = {size: {"blush": 100, "gold": 100} for size in FULL}
    bags = Decimal("5.50") + Decimal("10.50") + Decimal("14.50") + Decimal("8.00")
    used = (
        Decimal("10.01") * Decimal("0.10")
        + Decimal("7.7") * Decimal("0.19")
        + Decimal("1.848") * Decimal("0.55")
        + Decimal("0.385") * Decimal("1.40")
    )
    quote = priced(garland(stock=stock))
    assert rest(quote) == bags - used
    assert any("rest of the bags of white" in e.what for e in quote.priced.likely.costing.entries)


def test_a_column_pairs_own_colour_is_charged_by_the_bag():
    """64 of 11 in and a tenth more are 70.4: a bag of 100 at 19, less 70.4 at .19."""
    pieces = [{"kind": "column", "count": 2, "height_ft": 6.5}]
    quote = priced(garland(pieces=pieces, colours=["teal"], stock={}))
    assert rest(quote) == Decimal(19) - Decimal("70.4") * Decimal("0.19")
    taught = replace(book(), learned={"column": Learned(balloons=Decimal("1.2"), jobs=9)})
    more = priced(garland(pieces=pieces, colours=["teal"], stock={}), taught)
    assert rest(more) == Decimal(19) - Decimal("70.4") * Decimal("1.2") * Decimal("0.19")


def test_without_a_client_only_colour_nothing_is_bought_for_the_client_alone():
    assert rest(priced(garland(stock={}, client_only_colour=False))) == 0


def test_without_colours_the_usual_rest_of_a_bag_is_paid():
    assert rest(priced(garland(stock={}, colours=None))) == 16


def test_sizes_may_be_written_as_in_the_answer():
    assert priced(garland(stock={"11 in": {"blush": 9}})).packs == priced(garland(stock={"11": {"blush": 9}})).packs


@pytest.mark.parametrize(
    ("stock", "words"),
    [
        ("full", "facts.stock: 'full' is not made of sizes"),
        ({"12": {}}, "facts.stock: '12' is not known: write one of 5, 9, 11"),
        ({"11": 4}, "facts.stock.11: 4 is not made of colours"),
        ({"11": {"white": -1}}, "facts.stock.11.white: -1 is below 0"),
        ({"11": {"white": 1.5}}, "facts.stock.11.white: 1.5 is no whole number"),
    ],
    ids=str,
)
def test_a_stock_that_cannot_be_is_refused(stock, words):
    with pytest.raises(FactWrong) as caught:
        priced(garland(stock=stock))
    assert words in str(caught.value)


feet = st.decimals("1", "60", places=1).map(float)


@settings(max_examples=40, deadline=None)
@given(feet, feet, st.sampled_from([{}, {"11": {"white": 1}}, {"5": {"blush": 3, "gold": 9}}]))
def test_a_longer_garland_never_costs_less_whatever_is_in_stock(one, other, stock):
    shorter, longer = (priced(garland(length, stock=stock)).exact for length in sorted((one, other)))
    assert all(short <= long for short, long in zip(shorter, longer, strict=True))


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 500), st.integers(0, 500), st.sampled_from(["5", "9", "11", "17", "24", "36"]))
def test_more_balloons_never_cost_less_to_buy(one, other, size):
    few, many = sorted((one, other))
    offers = book().prices.balloons[size].offers()
    assert cheapest_bags(few, offers).cost <= cheapest_bags(many, offers).cost


def test_a_mirror_colour_for_this_client_alone_is_charged_at_the_mirror_price():
    """Half the balloons mirror at 2.3 times: each balloon, and each bag's rest, is 1.65 times as dear."""
    plain, mirror = (garland(stock={}, colours=["gold"], finish=finish) for finish in ({}, {"mirror": 0.5}))
    assert rest(priced(mirror)) == rest(priced(plain)) * Decimal("1.65")
    doubled = garland(stock={}, colours=["gold"], finish={"doubled": 0.5})
    assert rest(priced(doubled)) == rest(priced(plain)) * Decimal("1.55")
