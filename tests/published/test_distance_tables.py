"""Straight-line distances against published pairs and geopy, and miles from ZIP codes and towns."""

from decimal import Decimal

import pytest
from geopy.distance import great_circle

from assistant.loading.places import road_miles_from
from assistant.pricing.distance import KM_PER_MILE, great_circle_km, road_miles

PAIRS = [  # (latitude, longitude) pairs, km on a sphere of radius 6371.009 km (geopy's great_circle)
    ((36.12, -86.67), (33.94, -118.40), 2886.449),
    ((41.49008, -71.312796), (41.499498, -81.695391), 864.2145),
    ((0, 0), (0, 1), 111.1951),
    ((0, 0), (0, 180), 20015.115),
    ((40.7484, -73.9967), (40.7484, -73.9967), 0),
]


@pytest.mark.parametrize(("start", "end", "km"), PAIRS)
def test_the_great_circle_of_published_pairs(start, end, km):
    assert great_circle_km(start, end) == pytest.approx(km, abs=0.001)
    assert great_circle_km(start, end) == pytest.approx(great_circle(start, end).km, rel=1e-9)


def test_road_miles_stretch_the_straight_line():
    start, end = (39.8, -89.65), (39.9, -89.2)
    straight = great_circle_km(start, end) / KM_PER_MILE
    assert float(road_miles(start, end, Decimal("1.3"))) == pytest.approx(straight * 1.3, abs=0.051)


MILES = road_miles_from("62701", Decimal("1.3"), Decimal(60))


def test_a_zip_code_in_the_place_gives_miles():
    """Points of the zipcodes package; 62629 is about 13 miles south of 62701 by straight line."""
    assert 10 <= MILES("Hall at 12 Oak Lane, 62629") <= 25
    assert MILES("62701") == 0
    assert MILES("Hall, Chatham IL 62629-0001") == MILES("62629")


def test_five_figures_of_a_house_are_no_zip_code():
    """12345 is a ZIP code of Schenectady, New York."""
    assert MILES("12345 Oak Lane, Chatham, IL") == MILES("Chatham, IL")
    assert MILES("12345 Oak Lane") is None


def test_a_town_with_its_state_gives_miles_and_the_nearest_of_its_name_counts():
    assert MILES("Chatham, IL") == pytest.approx(MILES("62629"), abs=Decimal(8))
    assert MILES("Chatham") == MILES("chatham, il")
    assert MILES("12 Oak Lane, Chatham IL") == MILES("Chatham, IL")


@pytest.mark.parametrize("place", ["Larkspur Tea Room", "my house", "00000", "", "the backyard", "Honolulu"])
def test_a_place_that_is_no_town_near_gives_nothing(place):
    assert MILES(place) is None


def test_a_far_place_counts_when_its_state_or_zip_code_makes_it_sure():
    assert MILES("Honolulu, HI") > 4000
    assert MILES("90210") > 1500
