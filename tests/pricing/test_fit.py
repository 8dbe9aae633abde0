"""Two ways to fit a budget: smaller, or plainer; each computed, with what changes."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.pricing.jobs import book, garland, priced


def fit(facts):
    return priced(facts).to_json().get("fit", [])


def test_a_budget_within_the_range_needs_no_other_version():
    assert fit(garland(budget=[None, 600])) == []
    assert fit(garland(budget=[500, None])) == []
    assert fit(garland()) == []


def test_a_budget_below_the_range_gets_a_smaller_and_a_plainer_version():
    smaller, plainer = fit(garland(budget=[None, 430]))
    assert (smaller["way"], smaller["fits"]) == ("smaller", True)
    assert smaller["changes"] == ["Organic garland: 8.5 ft instead of 14 ft"]
    assert (plainer["way"], plainer["fits"]) == ("plainer", True)
    assert plainer["changes"] == ["light density", "no accents"]
    assert plainer["facts"] == {"density": "light", "accents": False}


def test_the_smaller_version_is_the_largest_that_fits():
    (smaller, _) = fit(garland(budget=[None, 430]))
    half_foot_more = {**garland(), "pieces": [{"kind": "garland", "length_ft": 9.5}]}
    assert priced({**garland(), **smaller["facts"]}).shown[1] <= 43000 < priced(half_foot_more).shown[1]


def test_what_is_not_enough_when_plain_is_made_smaller_too():
    facts = garland(30, density="lush", finish={"doubled": 0.5}, strike=True, budget=[None, 400])
    smaller, plainer = fit(facts)
    assert not smaller["fits"]
    assert plainer["changes"][:4] == [
        "light density", "plain balloons, none mirror or doubled", "no accents", "the client takes it down",
    ]  # fmt: skip
    assert plainer["fits"]


def test_a_version_below_the_smallest_order_does_not_fit_and_says_so():
    assert [row["fits"] for row in fit(garland(pieces=[{"kind": "wall"}], budget=[None, 200]))] == [False, False]


def test_a_budget_at_the_low_end_is_within_the_range():
    low = priced(garland(90)).shown[0] // 100
    assert fit(garland(90, budget=[None, low])) == []
    assert fit(garland(90, budget=[None, low - 1])) != []


def test_a_job_with_no_piece_named_is_made_smaller_too():
    smaller = fit({"budget": [None, 200], "miles": 20})[0]
    assert smaller["changes"] == ["Organic garland: 4 ft instead of 10 ft"]
    assert smaller["facts"]["pieces"] == [{"kind": "garland", "length_ft": 4.0}]


def test_a_piece_of_one_recipe_is_not_called_lighter():
    facts = garland(pieces=[{"kind": "column", "count": 8, "height_ft": 8}], strike=None, budget=[None, 300])
    assert not any("light" in words for row in fit(facts) for words in row["changes"])


def test_balloons_stay_at_least_three():
    facts = garland(pieces=[{"kind": "bouquet", "balloons": 4, "count": 60}], budget=[None, 400])
    assert fit(facts)[0]["changes"] == ["Helium bouquet: 3 balloons instead of 4"]


def test_only_what_a_client_can_carry_and_set_up_is_offered_for_picking_up():
    def fetched(**facts):
        return any("picked up" in words for row in fit(garland(**facts)) for words in row["changes"])

    assert fetched(budget=[None, 250])
    assert not fetched(budget=[None, 250], pick_up=True, pieces=[{"kind": "garland", "length_ft": 60}])
    assert not fetched(budget=[None, 250], pieces=[{"kind": "arch", "width_ft": 8, "height_ft": 8}])


def test_a_loose_ceiling_has_no_width_to_lose():
    loose = {"kind": "ceiling", "shape": "loose", "width_ft": 20, "length_ft": 20, "share": 0.5}
    facts = garland(pieces=[loose], density=None, finish={"doubled": 0.5}, strike=None, budget=[None, 400])
    assert [row["way"] for row in fit(facts)] == ["plainer"]


def test_a_wall_keeps_its_height_when_it_gets_narrower():
    facts = garland(pieces=[{"kind": "wall", "width_m": 3, "height_m": 2.4}], crew=None, strike=None)
    facts["budget"] = [None, priced(facts).shown[0] // 100 - 1]
    (piece,) = fit(facts)[0]["facts"]["pieces"]
    assert set(piece) == {"kind", "width_ft", "height_ft"}
    assert piece["height_ft"] == pytest.approx(2.4 / 0.3048, abs=1e-5)


def test_no_version_is_smaller_than_two_fifths():
    """Smaller than that is another piece: 30 ft goes down to 12."""
    smaller = fit(garland(30, budget=[None, 150]))[0]
    assert (smaller["changes"], smaller["fits"]) == (["Organic garland: 12 ft instead of 30 ft"], False)


SIZED = [
    ({"kind": "column", "count": 2, "height_ft": 8}, "Balloon column: "),
    ({"kind": "wall", "width_ft": 10, "height_ft": 8}, "Balloon wall: "),
    ({"kind": "bouquet", "balloons": 30, "count": 8}, "Helium bouquet: "),
    ({"kind": "drop", "count": 1000}, "Balloon drop: "),
    ({"kind": "garland", "at": "door", "way": "around"}, "Organic garland: "),
    ({"kind": "arch", "width_m": 6, "height_m": 2.5}, "Organic arch: "),
    ({"kind": "marquee", "count": 3, "height_ft": 5}, "Figure or letter mosaic: "),
]


@pytest.mark.parametrize(("piece", "words"), SIZED, ids=[words for _, words in SIZED])
def test_every_kind_of_size_can_be_made_smaller(piece, words):
    facts = garland(pieces=[piece], crew=None, strike=None)
    facts["budget"] = [None, priced(facts).shown[0] // 100 - 1]
    version = fit(facts)[0]
    assert version["changes"][0].startswith(words)
    assert " instead of " in version["changes"][0]
    assert version["likely"] < priced(facts).shown[1]


def test_what_has_no_size_to_lose_is_made_plainer_only():
    facts = garland(pieces=[{"kind": "centerpiece", "count": 20}], budget=[None, 400])
    assert [row["way"] for row in fit(facts)] == ["plainer"]


@settings(max_examples=30, deadline=None)
@given(
    st.decimals("5", "60", places=1).map(float),
    st.integers(100, 900),
    st.sampled_from(["standard", "lush", None]),
    st.sampled_from([True, False, None]),
    st.sampled_from(["garland", "arch"]),
)
def test_a_version_costs_what_it_says_and_less_than_was_asked(feet, budget, density, strike, kind):
    facts = garland(pieces=[{"kind": kind, "length_ft": feet}], density=density, strike=strike, budget=[None, budget])
    asked = priced(facts).shown
    for version in fit(facts):
        again = priced({**facts, **version["facts"]}).shown
        assert again == (version["low"], version["likely"], version["high"])
        assert version["fits"] == (again[1] <= budget * 100)
        assert again[1] <= asked[1]
        assert again[1] >= book().prices.pick_up.minimum_order * 100
