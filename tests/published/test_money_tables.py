"""Margin, card fee and rounding against published tables and plain identities."""

from dataclasses import replace
from decimal import Decimal

import pytest

from assistant.pricing.money import cents, floor_price, friendly, gross_up, left_for_work, selling_price, to_step
from tests.pricing.jobs import book

NOTHING_ELSE = {"overhead": Decimal(0), "card_fee": Decimal(0), "card_fee_fixed": Decimal(0)}


@pytest.mark.parametrize(
    ("cost", "margin", "price", "markup"),
    [
        (60, "0.40", "100.00", "66.67"),
        (70, "0.30", "100.00", "42.86"),
        (80, "0.20", "100.00", "25.00"),
        (100, "0.25", "133.33", "33.33"),
        (100, "0.50", "200.00", "100.00"),
    ],
)
def test_a_margin_is_a_share_of_the_price(cost, margin, price, markup):
    """price = cost / (1 - m) = cost (1 + k), k = m / (1 - m): identities of margin and markup."""
    shares = replace(book().prices.shares, profit=Decimal(margin), **NOTHING_ELSE)
    asked = selling_price(Decimal(cost), shares)
    assert round(asked, 2) == Decimal(price)
    assert round((asked / cost - 1) * 100, 2) == Decimal(markup)
    assert round((asked - cost) / asked, 6) == Decimal(margin)


def test_adding_the_margin_as_a_markup_would_earn_less():
    """60 at 40 % is 100; 60 x 1.4 = 84 earns 28.57 % only."""
    shares = replace(book().prices.shares, profit=Decimal("0.4"), **NOTHING_ELSE)
    assert selling_price(Decimal(60), shares) == 100 > 60 * Decimal("1.4")


@pytest.mark.parametrize(
    ("net", "rate", "fixed", "gross"),
    [(100, "0.029", "0.30", "103.2956"), (500, "0.029", "0.30", "515.2420"), (1000, "0.03", "0", "1030.9278")],
)
def test_a_card_fee_is_grossed_up(net, rate, fixed, gross):
    """gross = (net + fixed) / (1 - rate); adding the fee to the net keeps less than the net."""
    asked = gross_up(Decimal(net), Decimal(rate), Decimal(fixed))
    assert round(asked, 4) == Decimal(gross)
    assert asked - asked * Decimal(rate) - Decimal(fixed) == pytest.approx(Decimal(net))


def test_the_price_pays_every_share_and_leaves_the_cost():
    shares = book().prices.shares
    for direct in (Decimal(100), Decimal("363.94"), Decimal(5000)):
        asked = selling_price(direct, shares)
        assert round(left_for_work(asked, direct, shares) - asked * shares.profit, 10) == 0
        least = floor_price(direct, shares)
        assert round(left_for_work(least, direct, shares), 10) == 0


@pytest.mark.parametrize(
    ("amount", "half_up"), [("0.125", 13), ("2.675", 268), ("1.005", 101), ("12.345", 1235), ("27.115", 2712)]
)
def test_cents_are_rounded_half_up_where_binary_floats_slip(amount, half_up):
    """2.675 and 1.005 are the classic cases that round(float, 2) gets wrong; 27.115 = 37.4 miles at 0.725."""
    assert cents(Decimal(amount)) == half_up


def test_mileage_is_the_federal_business_rate_of_2026():
    """IRS Notice 2026-10: 72.5 cents a mile."""
    assert book().prices.travel.per_mile == Decimal("0.725")


def test_rounding_to_a_step():
    assert to_step(Decimal("512.5"), Decimal(25)) == 525
    assert to_step(Decimal("287.49"), Decimal(5)) == 285


@pytest.mark.parametrize(
    ("exact", "shown"),
    [
        (("473.62", "519.61", "565.60"), (45000, 52500, 57500)),  # ends outwards to 25, likely to the nearest 25
        (("260", "272.60", "281"), (25000, 27500, 30000)),  # below 300 the likely one goes to 5
        (("400", "400", "400"), (40000, 40000, 40000)),
    ],
)
def test_friendly_figures(exact, shown):
    """Common practice, no source: final to 5 below 300, else to 25; ends to 25, low down and high up."""
    assert friendly([Decimal(value) for value in exact], book().prices.rounding, Decimal(0)) == shown


def test_no_friendly_figure_falls_below_the_minimum_order():
    exact = [Decimal(365)] * 3
    assert friendly(exact, book().prices.rounding, Decimal(360)) == (36000, 37500, 37500)
