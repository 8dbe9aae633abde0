"""The gas of a job: cylinders, weights of bunches, hours afloat, and what height changes."""

from dataclasses import replace
from decimal import Decimal

import pytest

from tests.pricing.jobs import book, garland, priced

LOOSE = {"kind": "ceiling", "shape": "loose", "width_ft": 20, "length_ft": 20, "share": 0.5}


def need(piece, price_book=None):
    return priced(garland(pieces=[piece]), price_book).to_json().get("gas")


def at_height(feet):
    return replace(book(), gas=replace(book().gas, altitude_ft=Decimal(feet)))


def test_half_a_ceiling_of_20_by_20_takes_110_cubic_feet_of_one_cylinder():
    """220 fills of 0.5 cubic ft, half a large cylinder: common practice."""
    gas = need(LOOSE)
    assert (gas["cubic_ft"], gas["cylinders"]) == (110, 1)
    assert need({**LOOSE, "share": 1})["cylinders"] == 2  # 220 of 219.6 usable


def test_loose_balloons_float_a_day_at_most_and_treated_ones_longer():
    """11 in latex: 8 to 24 h plain, 2 to 4 days treated."""
    assert need(LOOSE)["bunches"][0]["float_hours"] == [8, 24]
    assert need({"kind": "bouquet", "size": "medium"})["bunches"][0]["float_hours"] == [48, 96]


def test_a_bouquets_weight_holds_its_lift_with_room_to_spare():
    """Five 11 in of 10 g and two foils of 4 g lift 58 g; half as much again holds them (common practice)."""
    (bunch,) = need({"kind": "bouquet", "size": "medium"})["bunches"]
    assert (bunch["lift_g"], bunch["weight_g"]) == (58, 87)
    (larger,) = need({"kind": "bouquet", "balloons": 14})["bunches"]
    assert larger["lift_g"] == 116


def test_at_height_a_fill_takes_and_lifts_less():
    """5,000 ft: the air is 1 / 1.202 as dense (ISO 2533)."""
    low, high = (need({"kind": "bouquet", "size": "medium"}, at_height(feet))["bunches"][0] for feet in (0, 5000))
    assert high["lift_g"] == pytest.approx(low["lift_g"] / 1.202, abs=0.1)
    assert need({**LOOSE, "share": 1}, at_height(5000))["cylinders"] == 1


def test_air_filled_pieces_need_no_gas():
    assert need({"kind": "garland", "length_ft": 14}) is None
