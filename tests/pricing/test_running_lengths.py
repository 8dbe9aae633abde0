"""Running length from where a piece goes and from metres, each with its assumption in words."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.pricing import FactWrong
from tests.pricing.jobs import garland, priced

FEW = settings(max_examples=40, deadline=None)


def running(**piece):
    """Return (low, likely, high) running feet of a garland, and the assumptions made for its size."""
    job = priced(garland(pieces=[{"kind": "garland", **piece}])).priced.job
    units = job.pieces[0].size.units
    words = [row.why for row in job.assumed if row.fact == "size"]
    return tuple(round(float(feet), 1) for feet in (units.low, units.likely, units.high)), words


WORKED = [  # common practice, no source: what clients' words usually mean in feet
    ({"at": "door"}, (6.0, 8.0, 18.0)),
    ({"at": "doorway", "way": "around"}, (18.0, 18.0, 18.0)),
    ({"at": "door", "way": "top"}, (6.0, 8.0, 8.0)),
    ({"at": "double door", "way": "around"}, (21.0, 21.0, 21.0)),
    ({"at": "double door", "way": "top"}, (6.0, 8.0, 8.0)),
    ({"at": "garage door"}, (8.0, 22.0, 30.0)),
    ({"at": "garage door", "way": "around", "width_ft": 9}, (23.0, 23.0, 23.0)),
    ({"at": "garage", "way": "around", "width_ft": 16}, (30.0, 30.0, 30.0)),
    ({"at": "garage door", "way": "corner", "width_ft": 8}, (11.0, 11.0, 11.0)),
    ({"at": "table"}, (6.0, 10.0, 12.0)),
    ({"at": "table", "way": "front"}, (6.0, 6.5, 7.0)),
    ({"at": "table", "way": "behind"}, (10.0, 10.0, 12.0)),
    ({"at": "table", "way": "front", "width_ft": 8}, (8.0, 8.5, 9.0)),
    ({"at": "stairs", "way": "along"}, (14.0, 14.0, 14.0)),
    ({"at": "staircase", "way": "swagged"}, (15.4, 15.4, 15.4)),
    ({"at": "stairs"}, (14.0, 14.0, 15.4)),
    ({"at": "stairs", "way": "along", "steps": 26, "landing_ft": 3}, (31.0, 31.0, 31.0)),
    ({"at": "door", "length_ft": 12}, (12.0, 12.0, 12.0)),
    ({"shape": "swag", "width_ft": 10, "sag_ft": 2}, (11.1, 11.1, 11.1)),
    ({"shape": "swag", "width_ft": 10}, (10.3, 11.1, 11.7)),
    ({"shape": "swag", "length_ft": 11}, (11.0, 11.0, 11.0)),
    ({"size": "medium"}, (10.0, 10.0, 10.0)),
    ({"size": "medium", "length_ft": 12}, (12.0, 12.0, 12.0)),
]


@pytest.mark.parametrize(("piece", "feet"), WORKED, ids=[str(piece) for piece, _ in WORKED])
def test_a_spot_has_its_usual_running_length(piece, feet):
    assert running(**piece)[0] == feet


@pytest.mark.parametrize(
    ("piece", "words"),
    [
        ({"at": "door"}, "door taken as 3 ft wide, 6.7 ft high: across the top 6 to 8 ft; up, across and down outside"),
        ({"at": "table", "width_ft": 8}, "table 8 ft wide: along its front 8 to 9 ft; behind and above it 12 to 14 ft"),
        ({"at": "stairs"}, "stairs taken as 13 steps of 7.5 in rise and 10.5 in run"),
        ({"at": "stairs", "steps": 15}, "stairs 15 steps"),
        ({"shape": "swag", "width_ft": 10}, "hung between two points, 1 to 2.5 ft deep in the middle"),
        ({"shape": "swag"}, "no width yet"),
        ({"size": "large"}, "'large' is taken as 14 ft"),
        ({"kind": "bouquet", "size": "large"}, "'large' is taken as 10 balloons"),
        ({"kind": "bouquet"}, "not said how large: 5 to 10, likely 7"),
    ],
    ids=str,
)
def test_a_length_that_was_assumed_says_so_in_words(piece, words):
    assert any(words in why for why in running(**piece)[1]), running(**piece)[1]


def test_a_given_size_assumes_nothing():
    assert running(length_ft=12) == ((12.0, 12.0, 12.0), [])
    assert running(kind="bouquet", balloons=[5, 8]) == ((5.0, 6.5, 8.0), [])


def test_a_swag_may_hang_half_its_width_deep():
    assert running(shape="swag", width_ft=6, sag_ft=3)[0] == (10.0, 10.0, 10.0)


def test_a_garland_along_a_staircase_is_installed_more_slowly():
    on_stairs, straight = (
        garland(pieces=[{"kind": "garland", "length_ft": 14, **at}]) for at in ({"at": "stairs"}, {})
    )
    ratio = priced(on_stairs).hours["install"] / priced(straight).hours["install"]
    assert ratio == pytest.approx(1.5, abs=0.001)
    stand = {"kind": "garland", "length_ft": 14, "at": "stairs", "mount": "stand"}
    assert priced(garland(pieces=[stand])).hours["install"] == priced(straight).hours["install"]


@pytest.mark.parametrize(
    ("piece", "words"),
    [
        ({"at": "door", "way": "behind"}, "way 'behind' is not known at a door: known are top, around"),
        ({"at": "stairs", "way": "around"}, "way 'around' is not known on stairs: known are along, swagged"),
        ({"at": "stairs", "steps": -2}, "facts.pieces[0].steps: -2 is below 0: give how many steps"),
        ({"kind": "column", "at": "door"}, "at 'door' says nothing of how large Balloon column is"),
        ({"shape": "swag", "width_ft": 6, "sag_ft": 4}, "sag_ft: 4 is more than half of the width 6"),
        ({"length_ft": "10 ft"}, "length_ft: '10 ft' is no number: give feet as a number"),
        ({"length_m": "3 m"}, "length_m: '3 m' is no number: give metres as a number"),
        ({"length_m": -1}, "length_m: -1 is below 0: give metres"),
        ({"length_m": 70}, "length_m: 70 is more than 60.96"),
        ({"length_m": 3, "length_ft": 10}, "length_ft and length_m are both given: give one of them"),
    ],
    ids=str,
)
def test_a_measure_that_cannot_be_is_refused_with_a_remedy(piece, words):
    with pytest.raises(FactWrong) as caught:
        running(**piece)
    assert words in str(caught.value)


kinds = st.sampled_from(["garland", "arch", "hoop", "wall", "column"])
feet = st.decimals("2", "30", places=1).map(float)


@FEW
@given(kinds, feet, feet, st.sampled_from(["length", "width", "height"]))
def test_metres_and_feet_agree(kind, one, other, measure):
    """An international foot is 0.3048 m exactly (1959)."""
    low, high = sorted((one, other))
    in_feet = {"kind": kind, f"{measure}_ft": [low, high]}
    in_metres = {"kind": kind, f"{measure}_m": [low * 0.3048, high * 0.3048]}
    both = [priced(garland(pieces=[piece], crew=1)).exact for piece in (in_feet, in_metres)]
    assert both[0] == both[1]


@FEW
@given(feet, feet, st.sampled_from(["table", "door", "garage door"]))
def test_a_wider_spot_never_costs_less(one, other, spot):
    costs = [
        priced(garland(pieces=[{"kind": "garland", "at": spot, "width_ft": width}], crew=1)).exact
        for width in sorted((one, other))
    ]
    assert all(narrow <= wide for narrow, wide in zip(*costs, strict=True))


@FEW
@given(st.integers(1, 40), st.integers(1, 40))
def test_more_steps_never_cost_less(one, other):
    costs = [
        priced(garland(pieces=[{"kind": "garland", "at": "stairs", "steps": steps}], crew=1)).exact
        for steps in sorted((one, other))
    ]
    assert all(few <= many for few, many in zip(*costs, strict=True))
