"""Worked prices of a small studio, to the dollar.

The inputs (recipes, minutes, prices, shares) are common practice, no source; the results are arithmetic by the model
supplies = L x recipe x (1 + waste) + 16 + 9 + 22 + 12, hours = 1 + .75 + .5 + drive + build + install,
price = (direct + .30) / (1 - .12 - .029 - .15), worked out apart from this program.
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from assistant.pricing.money import left_for_work, selling_price
from tests.pricing.jobs import book, dollars, garland, priced

DOUBLED = {"doubled": 1}

REFERENCE_TABLE = [
    ("8 ft", garland(8), 5.68, 427),
    ("10 ft", garland(10), 6.22, 458),
    ("14 ft", garland(14), 7.28, 520),
    ("20 ft", garland(20), 8.88, 613),
    ("30 ft", garland(30), 11.55, 768),
    ("14 ft light", garland(14, density="light"), 6.35, 455),
    ("14 ft lush", garland(14, density="lush"), 8.22, 584),
    ("14 ft all doubled", garland(14, finish=DOUBLED), 8.34, 628),
    ("14 ft outdoors", garland(14, setting="outdoor"), 7.78, 570),
    ("14 ft with strike", garland(14, strike=True), 8.78, 625),
    ("lush, doubled, strike", garland(14, density="lush", finish=DOUBLED, strike=True), None, 838),
    ("24 ft", garland(24), None, 675),
    ("column pair, 6.5 ft", garland(pieces=[{"kind": "column", "count": 2, "height_ft": 6.5}], strike=True), 5.75, 406),
]


@pytest.mark.parametrize(
    ("facts", "hours", "price"), [row[1:] for row in REFERENCE_TABLE], ids=[row[0] for row in REFERENCE_TABLE]
)
def test_a_worked_price_is_met_to_the_dollar(facts, hours, price):
    quote = priced(facts)
    assert abs(quote.exact[1] / 100 - price) <= 1
    if hours is not None:
        assert abs(sum(quote.hours.values()) - hours) <= 0.01


def model(feet, density="standard", mirror=0.0, doubled=0.0, outdoor=False, strike=False):
    """The reference model in plain floats, written apart from the engine."""
    per_ft = {"light": 1.49, "standard": 2.61, "lush": 3.70}[density]
    minutes = {"light": 9, "standard": 13, "lush": 17}[density]
    latex = feet * per_ft * (1 + mirror * 1.3 + doubled * 1.1) * (1.25 if outdoor else 1.10)
    supplies = latex + 16 + 9 + 22 + 12 + (15 if outdoor else 0)
    build = feet * minutes / 60 * (1 + doubled * 0.35)
    install = (18 + 3 * feet) / 60 * (1.5 if outdoor else 1)
    visits = 2 if strike else 1
    hours = 1 + 0.75 + 0.5 + visits * 1.0 + build + install + (0.5 if strike else 0)
    direct = supplies + (40 * visits + 10) * 0.725 + 10 + hours * 30
    return (direct + 0.30) / (1 - 0.12 - 0.029 - 0.15)


@pytest.mark.parametrize("feet", [5, 8.5, 11, 12.25, 14, 16.5, 19.4, 27, 45])
@pytest.mark.parametrize("density", ["light", "standard", "lush"])
@pytest.mark.parametrize("finish", [{}, {"doubled": 0.5}, {"mirror": 0.3}, {"mirror": 0.25, "doubled": 0.4}])
@pytest.mark.parametrize(("setting", "strike"), [("indoor", False), ("indoor", True), ("outdoor", False)])
def test_every_length_and_mix_follows_the_reference_model(feet, density, finish, setting, strike):
    facts = garland(feet, density=density, finish=finish, setting=setting, strike=strike)
    expected = model(feet, density, **finish, outdoor=setting == "outdoor", strike=strike)
    assert dollars(facts) == pytest.approx(max(expected, 350), abs=0.01)


@pytest.mark.parametrize(
    ("change", "percent"),
    [
        ({"feet": 8}, -18),
        ({"feet": 20}, 18),
        ({"feet": 24}, 30),
        ({"feet": 30}, 48),
        ({"miles": 5}, -11),
        ({"miles": 60}, 27),
        ({"finish": DOUBLED}, 21),
        ({"finish": {"doubled": 0.5}}, 10.5),  # half of the row above
        ({"strike": True}, 20),
        ({"stand": False, "accents": False, "client_only_colour": False}, -14),
        ({"density": "light"}, -12),
        ({"density": "lush"}, 12),
        ({"crew": 2}, 12),
        ({"setting": "outdoor"}, 10),
        ({"finish": {"mirror": 0.3}}, 4),
        ({"pieces": [{"kind": "garland", "length_ft": 14, "mount": "staircase"}]}, 4),
    ],
    ids=str,
)
def test_one_change_moves_the_reference_price_by_the_worked_share(change, percent):
    facts = garland(change.get("feet", 14), **{name: value for name, value in change.items() if name != "feet"})
    assert (dollars(facts) / dollars(garland()) - 1) * 100 == pytest.approx(percent, abs=0.6)


def test_the_covered_and_outdoor_extras_lie_within_common_practice():
    plain = dollars(garland())
    assert 1.05 <= dollars(garland(setting="covered")) / plain <= 1.10
    assert 1.09 <= dollars(garland(setting="outdoor")) / plain <= 1.20


ROUNDED = {"supplies": Decimal(100), "miles": Decimal("36.25"), "parking": Decimal(10), "hours": Decimal("7.25")}


def rounded_direct(wage: int) -> Decimal:
    """The worked half arch with its own rounded inputs."""
    return ROUNDED["supplies"] + ROUNDED["miles"] + ROUNDED["parking"] + ROUNDED["hours"] * wage


@pytest.mark.parametrize(("wage", "price"), [(25, 468), (30, 519), (35, 571), (40, 623)])
def test_cost_plus_by_the_owners_wage(wage, price):
    assert round(selling_price(rounded_direct(wage), book().prices.shares)) == price


@pytest.mark.parametrize(("profit", "price"), [("0.10", 485), ("0.15", 519), ("0.20", 559)])
def test_cost_plus_by_margin(profit, price):
    shares = replace(book().prices.shares, profit=Decimal(profit))
    assert round(selling_price(rounded_direct(30), shares)) == price


def test_a_strike_is_worth_about_105():
    shares = book().prices.shares
    with_strike, without = (selling_price(direct, shares) for direct in (Decimal("437.75"), rounded_direct(30)))
    assert round(with_strike) == 625
    assert with_strike - without == pytest.approx(Decimal(105), abs=1)


def test_what_500_leaves_an_hour():
    paid_out = ROUNDED["supplies"] + ROUNDED["miles"] + ROUNDED["parking"]
    left = left_for_work(Decimal(500), paid_out, book().prices.shares)
    assert left == Decimal("278.95")
    assert round(left / ROUNDED["hours"], 2) == Decimal("38.48")
    free_strike = left_for_work(Decimal(500), paid_out + 29, book().prices.shares)
    assert round(free_strike / Decimal("8.75"), 2) == Decimal("28.57")


def test_the_worked_supply_list_of_the_14_ft_half_arch():
    by_size = {size: sum(by_colour.values()) for size, by_colour in priced(garland(14)).balloons.items()}
    assert by_size == {"5": 101, "11": 77, "17": 19, "24": 4}


def test_a_garland_on_an_8x8_backdrop_spans_the_worked_ends():
    frame = [{"kind": "garland", "width_ft": [8, 8], "height_ft": [8, 8]}]
    at = priced(garland(pieces=frame)).priced
    assert (at.low.at.units[0], at.high.at.units[0]) == (8, 24)
    low, _, high = priced(garland(pieces=frame)).exact
    assert low / 100 <= 427
    assert high / 100 >= 675


def test_the_usual_band_is_the_straight_line_through_the_models_prices():
    for feet in (8, 10, 14, 20, 30):
        assert dollars(garland(feet)) == pytest.approx(303 + 15.5 * feet, abs=1)


def direct_of_piece(facts):
    """Direct cost of the first piece alone: what it costs at the studio's door."""
    entries = priced(facts).priced.likely.costing.entries
    return sum(entry.amount for entry in entries if entry.line == "piece 0")


def test_a_bouquet_of_seven_at_the_studios_door():
    """Supplies 16.70 and 17.5 min of labour make a price of 37 (common practice, no source)."""
    direct = direct_of_piece(garland(pieces=[{"kind": "bouquet", "size": "medium"}]))
    assert direct == pytest.approx(Decimal("16.70") + Decimal("8.75"), abs=Decimal("0.005"))
    assert round(selling_price(direct, book().prices.shares)) == 37


def test_a_loose_ceiling_of_20_by_20_half_covered():
    """220 fills, 110 cubic ft and 275 of gas at 2.50, 4.6 h on site, price about 920 (common practice, no source)."""
    pieces = [{"kind": "ceiling", "shape": "loose", "width_ft": 20, "length_ft": 20, "share": 0.5}]
    quote = priced(garland(pieces=pieces))
    gas = next(entry for entry in quote.priced.likely.costing.entries if entry.what == "helium")
    assert (gas.quantity, gas.amount) == (110, 275)
    assert sum(quote.balloons["11"].values()) == 220
    assert quote.hours["install"] == pytest.approx(4.6, abs=0.05)
    assert quote.exact[1] / 100 == pytest.approx(920, rel=0.02)
