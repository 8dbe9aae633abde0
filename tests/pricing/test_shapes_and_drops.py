"""The balloon drop, and the ceiling whose shape is not said."""

from dataclasses import replace

import pytest

from assistant.pricing import DesignerDecides
from tests.pricing.jobs import book, garland, priced


def job(*pieces, **more):
    return priced(garland(pieces=list(pieces), **{"crew": None, "strike": None, **more}))


def entries(quote, what):
    return [entry for entry in quote.priced.likely.costing.entries if entry.what == what]


def test_a_drop_of_500_is_inflated_in_an_hour_and_40_minutes_and_takes_five_percent_spare():
    """300 an hour and 5 % spare: common practice, no source."""
    quote = job({"kind": "drop", "count": 500})
    assert quote.hours["build"] == pytest.approx(500 / 300, abs=0.001)
    assert sum(quote.balloons["9"].values()) == 525
    assert quote.to_json()["crew"]["installers"] == 2


def test_a_drop_of_600_takes_three_hours_on_site():
    """Tutorials: about 3 h on site for 500 to 700."""
    assert job({"kind": "drop", "count": 600}).hours["install"] == pytest.approx(3, abs=0.001)


def test_a_drop_is_looked_at_first_and_cleared_up_after():
    quote = job({"kind": "drop", "count": 500})
    assert quote.hours["site_visit"] == pytest.approx(1.5)  # an hour of driving and half an hour there
    assert quote.hours["strike"] == pytest.approx(0.5 + 500 * 0.06 / 60)
    assert "site_visit" not in job({"kind": "garland", "length_ft": 9}).hours


def test_a_drop_may_name_its_balloons_or_its_size():
    by_count, by_balloons, by_word = (
        job({"kind": "drop", **said}).exact for said in ({"count": 500}, {"balloons": 500}, {"size": "medium"})
    )
    assert by_count == by_balloons == by_word


def test_a_drop_without_a_number_is_priced_from_250_to_1000():
    quote = job({"kind": "drop"})
    units = quote.priced.job.pieces[0].size.units
    assert (units.low, units.likely, units.high) == (250, 500, 1000)


@pytest.mark.parametrize(("height", "hired"), [(12, []), (12.5, [150])])
def test_a_lift_is_hired_above_twelve_feet(height, hired):
    """A lift above 12 ft is common practice; its price is a setting from memory."""
    quote = job({"kind": "drop", "count": 500, "height_ft": height})
    assert [entry.amount for entry in entries(quote, "lift hire")] == hired


def test_one_high_piece_is_enough_for_a_lift_which_is_hired_once():
    low, high = {"kind": "garland", "length_ft": 9}, {"kind": "arch", "width_ft": 8, "height_ft": 13}
    quote = job(low, high, dict(high))
    assert [entry.amount for entry in entries(quote, "lift hire")] == [150]
    assert quote.priced.likely.sums.direct == pytest.approx(quote.priced.likely.costing.direct)


def test_a_drop_outdoors_is_the_designers_to_refuse():
    with pytest.raises(DesignerDecides, match="indoors only"):
        job({"kind": "drop"}, setting="outdoor")


def test_a_ceiling_of_no_shape_is_priced_over_both_and_says_so():
    both = job({"kind": "ceiling"})
    hung, loose = (job({"kind": "ceiling", "shape": shape}) for shape in ("hung", "loose"))
    assert both.exact[0] == min(hung.exact[0], loose.exact[0])
    assert both.exact[1] == hung.exact[1]
    assert both.exact[2] == max(hung.exact[2], loose.exact[2])
    said = [row.why for row in both.priced.job.assumed if row.fact == "shape"]
    assert said == ["ceiling: hung or loose is not said; the range covers both"]


def test_knowing_the_shape_narrows_the_range():
    quote = job({"kind": "ceiling"})
    row = next(row for row in quote.priced.narrowing if row.fact == "shape")
    hung = job({"kind": "ceiling", "shape": "hung"})
    assert row.width_if_known == hung.priced.high.price - hung.priced.low.price < row.width_now


def test_cautions_of_either_shape_are_told():
    told = " ".join(job({"kind": "ceiling"}).to_json()["cautions"])
    assert "Helium" in told  # loose
    assert "ladders" in told  # hung


def test_too_many_open_shapes_are_the_designers():
    with pytest.raises(DesignerDecides, match="whose shape is open"):
        job(*[{"kind": "ceiling"}] * 5)


def test_without_the_rule_a_ceiling_of_no_shape_is_the_designers():
    rules = replace(book(), pieces=replace(book().pieces, shape_not_said={}))
    with pytest.raises(DesignerDecides, match="a ceiling has no recipe here"):
        priced(garland(pieces=[{"kind": "ceiling"}]), rules)
