"""Largest remainder against the 1790 census of the United States."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.pricing.apportionment import apportion, apportion_below

# State, apportionment population (1790 census), seats of 120 and of 105 by Hamilton's method. The 120 are the bill
# that Washington vetoed in 1792 (National Archives).
CENSUS = [
    ("VA", 630_560, 21, 18),
    ("MA", 475_327, 16, 14),
    ("PA", 432_879, 14, 13),
    ("NC", 353_523, 12, 10),
    ("NY", 331_589, 11, 10),
    ("MD", 278_514, 9, 8),
    ("CT", 236_841, 8, 7),
    ("SC", 206_236, 7, 6),
    ("NJ", 179_570, 6, 5),
    ("NH", 141_822, 5, 4),
    ("VT", 85_533, 3, 2),
    ("GA", 70_835, 2, 2),
    ("KY", 68_705, 2, 2),
    ("RI", 68_446, 2, 2),
    ("DE", 55_540, 2, 2),
]


@pytest.mark.parametrize(("seats", "column"), [(120, 2), (105, 3)])
def test_hamiltons_seats_of_1790(seats, column):
    assert apportion(seats, [row[1] for row in CENSUS]) == [row[column] for row in CENSUS]


def test_one_more_seat_may_cost_a_small_one_its_seat():
    """The Alabama paradox: weights 6, 6, 2 give 4, 4, 2 of ten and 5, 5, 1 of eleven."""
    assert apportion(10, [6, 6, 2]) == [4, 4, 2]
    assert apportion(11, [6, 6, 2]) == [5, 5, 1]


def test_ties_go_in_list_order():
    assert apportion(1, [1, 1, 1]) == [1, 0, 0]
    assert apportion(100, [1, 1, 1]) == [34, 33, 33]


weights = st.lists(st.integers(0, 10_000), min_size=1, max_size=8).filter(any)


@settings(max_examples=60)
@given(st.integers(0, 5000), weights)
def test_shares_add_up_and_stay_within_one_of_their_quota(total, parts):
    shares = apportion(total, parts)
    assert sum(shares) == total
    for share, part in zip(shares, parts, strict=True):
        quota = Fraction(total * part, sum(parts))
        assert quota - 1 < share < quota + 1


@settings(max_examples=60)
@given(st.data(), weights)
def test_capped_shares_add_up_and_keep_the_caps(data, parts):
    caps = [data.draw(st.integers(0, 50)) for _ in parts]
    total = data.draw(st.integers(0, sum(caps)))
    shares = apportion_below(total, [Decimal(part) for part in parts], caps)
    assert sum(shares) == total
    assert all(0 <= share <= cap for share, cap in zip(shares, caps, strict=True))


def test_what_is_over_a_cap_goes_to_those_with_weight_first():
    assert apportion_below(8, [5, 0, 1], [3, 9, 9]) == [3, 0, 5]
    assert apportion_below(8, [5, 0, 1], [3, 9, 2]) == [3, 3, 2]
    assert apportion_below(0, [1], [4]) == [0]


def test_without_any_weight_the_first_takes_all():
    assert apportion(5, [0, 0, 0]) == [5, 0, 0]
    assert apportion(5, []) == []


def test_impossible_shares_are_refused():
    with pytest.raises(ValueError, match="no negative number"):
        apportion(3, [1, -1])
    with pytest.raises(ValueError, match="raise a cap"):
        apportion_below(3, [1, 1], [1, 1])
