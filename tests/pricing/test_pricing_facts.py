"""Facts as they come: given plainly, with a status, as ranges, unclear, absent or wrong."""

from dataclasses import replace
from decimal import Decimal

import pytest

from assistant.pricing import DesignerDecides, FactWrong
from tests.pricing.jobs import book, garland, priced


def exact(facts):
    return priced(facts).exact


def assumed(facts, name):
    return [(row.value, row.why) for row in priced(facts).priced.job.assumed if row.fact == name]


def opened(facts):
    return [row.fact for row in priced(facts).priced.narrowing]


def test_a_bare_value_and_a_stated_one_price_alike():
    stated = {
        name: {"status": "stated", "value": garland()[name]}
        for name in ("density", "finish", "miles", "strike", "crew", "stand", "setting", "pieces", "colours")
    }
    assert exact(garland(**stated)) == exact(garland())


def test_what_was_inferred_is_priced_and_to_be_confirmed():
    facts = garland(setting={"status": "inferred", "value": "outdoor"})
    assert exact(facts) == exact(garland(setting="outdoor"))
    assert assumed(facts, "setting") == [("outdoor", "likely from the client's words; confirm in passing")]


def test_unclear_options_are_all_within_the_range():
    facts = garland(setting={"status": "unclear", "options": ["covered", "indoor"]})
    low, _, high = exact(facts)
    assert low == exact(garland())[0]
    assert high == exact(garland(setting="covered"))[2]
    assert opened(facts) == ["setting"]


def test_a_fully_known_job_has_nothing_open_and_may_show_one_figure():
    assert opened(garland()) == []
    assert priced(garland()).single_figure


def test_nothing_known_at_all_still_gets_a_range_with_every_assumption_in_words():
    quote = priced({})
    assert {row.fact for row in quote.priced.job.assumed} >= {"pieces", "size", "miles", "setting", "density", "strike"}
    assert {row.fact for row in quote.priced.narrowing} >= {"pieces", "place", "setting", "strike"}
    assert quote.exact[0] < quote.exact[1] < quote.exact[2]


def test_a_range_of_lengths_is_priced_at_its_ends():
    low, likely, high = exact(garland([8, 12]))
    assert low == exact(garland(8))[0]
    assert likely == exact(garland(10))[1]
    assert high == exact(garland(12))[2]


def test_a_garland_on_a_frame_covers_its_shorter_side_at_least():
    units = priced(garland(pieces=[{"kind": "garland", "width_ft": 8, "height_ft": 6}])).priced.job.pieces[0].size.units
    assert (units.low, units.high) == (6, 20)


def test_the_best_question_stands_first_in_the_narrowing():
    facts = garland([6, 30], setting=None)
    rows = priced(facts).priced.narrowing
    assert [row.fact for row in rows] == ["size", "setting"]
    assert rows[0].width_if_known < rows[1].width_if_known < rows[0].width_now


@pytest.mark.parametrize(
    ("open_facts", "fact", "known"),
    [
        ({"setting": None}, "size", {"pieces": [{"kind": "garland", "count": 1, "length_ft": 18}]}),
        ({"setting": None}, "setting", {"setting": "indoor"}),
        ({"miles": [5, 41]}, "miles", {"miles": 23}),
        ({"strike": None}, "strike", {"strike": False}),
        ({"colours": None, "finish": None}, "colours", {"finish": {}}),
        ({"pieces": [{"kind": "column", "count": [1, 3], "height_ft": 6}]}, "pieces",
         {"pieces": [{"kind": "column", "count": 2, "height_ft": 6}]}),
        ({"density": {"options": ["light", "lush", "standard"]}}, "density", {"density": "standard"}),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)  # fmt: skip
def test_an_answer_is_worth_what_the_range_loses_when_it_is_the_likely_one(open_facts, fact, known):
    facts = garland(**{"pieces": [{"kind": "garland", "count": 1, "length_ft": [6, 30]}], **open_facts})
    row = next(row for row in priced(facts).priced.narrowing if row.fact == fact)
    low, _, high = (case.price for case in cases({**facts, **known}))
    assert row.width_if_known == high - low


def cases(facts):
    found = priced(facts).priced
    return found.low, found.likely, found.high


def test_densities_that_cannot_be_ranked_are_both_priced():
    """A light recipe with slower building is cheaper in balloons and dearer in hours; parts and gas are apart too."""
    organic = book().pieces.work["organic"]
    for light in (
        replace(organic.builds["light"], minutes=Decimal(40)),
        replace(organic.builds["standard"], parts={"stems": Decimal(2)}),
        replace(organic.builds["standard"], parts={"stems": Decimal(1)}, helium_cubic_ft=Decimal(1)),
        replace(organic.builds["standard"], helium_cubic_ft=Decimal(2)),
    ):
        other = replace(organic.builds["standard"], parts={"stems": Decimal(1)}, helium_cubic_ft=Decimal(1))
        work = {**book().pieces.work, "organic": replace(organic, builds={"light": light, "standard": other})}
        rules = replace(book(), pieces=replace(book().pieces, work=work))
        each = [priced(garland(density=density), rules).exact for density in ("light", "standard")]
        both = priced(garland(density={"options": ["light", "standard"]}), rules).exact
        assert (both[0], both[2]) == (min(low for low, _, _ in each), max(high for _, _, high in each))


def test_a_named_place_that_is_not_found_leaves_the_miles_open():
    facts = garland(miles=None, place={"status": "stated", "value": "Larkspur Tea Room"})
    assert opened(facts) == ["miles"]
    assert "Larkspur Tea Room" in assumed(facts, "miles")[0][1]


def test_a_zip_code_gives_the_miles():
    facts = garland(miles=None, place={"status": "stated", "value": "62629"})
    assert opened(facts) == []
    assert "ZIP 62701" in assumed(facts, "miles")[0][1]


def test_columns_without_a_number_are_one_or_a_pair_and_come_back():
    facts = garland(pieces=[{"kind": "column", "height_ft": 6.5}], strike=None)
    assert opened(facts) == ["pieces"]
    assert exact(facts)[1] == exact(garland(pieces=[{"kind": "column", "count": 2, "height_ft": 6.5}], strike=True))[1]


def test_an_unclear_date_is_priced_on_all_its_days():
    """2027-06-12 is a Saturday in the peak, 2027-06-13 is a Sunday."""
    facts = garland(event_date={"status": "unclear", "options": ["2027-06-12", "2027-06-13"]})
    assert opened(facts) == ["event_date"]
    assert exact(facts)[0] == exact(garland())[0]
    assert exact(facts)[2] == exact(garland(event_date="2027-06-12"))[2]
    spanned = garland(event_date={"status": "unclear", "span": ["2027-06-12", "2027-06-13"]})
    assert exact(spanned) == exact(facts)


def test_a_past_day_is_priced_as_an_ordinary_one_and_says_so():
    facts = garland(event_date="2027-02-01")
    assert exact(facts) == exact(garland())
    assert "past" in assumed(facts, "event_date")[0][1]


WRONG = [
    (garland(-3), "facts.pieces[0].length_ft: -3 is below 0: give feet"),
    (garland(0), "facts.pieces[0].length_ft: 0 is not above 0"),
    (garland(900), "facts.pieces[0].length_ft: 900 is more than 200"),
    (garland(float("nan")), "facts.pieces[0].length_ft: nan is no number"),
    (garland("14"), "facts.pieces[0].length_ft: '14' is no number"),
    (garland(True), "facts.pieces[0].length_ft: True is no number"),
    (garland([12, 8]), "12 is more than 8: write [low, high]"),
    (garland([12]), "has not two ends"),
    (garland([8, None]), "None is no number"),
    (garland(miles=-3), "facts.miles: -3 is below 0: give one-way road miles"),
    (garland(miles="far"), "facts.miles: 'far' is no number"),
    (garland(miles=None, place=7), "facts.place: 7 is no text"),
    (garland(finish={"mirror": 0.7, "doubled": 0.7}), "facts.finish: the shares add up to 1.4, more than 1"),
    (garland(finish={"mirror": 1.2}), "facts.finish.mirror: 1.2 is more than 1"),
    (garland(finish={"shiny": 0.2}), "facts.finish: {'shiny': 0.2} is not made of mirror, doubled and plain"),
    (garland(finish="doubled"), "facts.finish: 'doubled' is not made of"),
    (garland(density="fluffy"), "facts.density: 'fluffy' is not known: write one of light, standard, lush"),
    (garland(setting="moon"), "facts.setting: 'moon' is not known"),
    (garland(strike="yes"), "facts.strike: 'yes' is neither true nor false"),
    (garland(strike_time="late"), "facts.strike_time: 'late' is no time of day: write it like 21:30"),
    (garland(strike_time=9), "facts.strike_time: 9 is no word"),
    (garland(crew=0), "facts.crew: 0 is not above 0"),
    (garland(crew=1.5), "facts.crew: 1.5 is no whole number"),
    (garland(crew=99), "facts.crew: 99 is more than 8"),
    (garland(colours="blush"), "facts.colours: no list"),
    (garland(colours=[3]), "facts.colours: each colour is a word"),
    (garland(colour_shares={"blush": 1}), "facts.colour_shares: {'blush': 1} does not name just the colours"),
    (garland(colour_shares={"blush": 0.5, "gold": 0.5, "white": 0.5}), "the shares add up to 1.5, not 1"),
    (garland(event_date="June"), "facts.event_date: 'June' is no day"),
    (garland(event_date={"status": "unclear", "span": ["2027-01-01", "2099-01-01"]}), "no stretch"),
    (garland(event_date={"status": "unclear", "options": "June"}), "facts.event_date.options is no list"),
    (garland(budget="cheap"), "facts.budget: 'cheap' is no number"),
    (garland(pieces="garland"), "facts.pieces: no list"),
    (garland(pieces=["garland"]), "facts.pieces[0]: no piece"),
    (garland(pieces=[{"kind": "gazebo"}]), "the piece 'gazebo' is not known: write one of garland"),
    (garland(pieces=[{"kind": "garland", "count": 2.5}]), "facts.pieces[0].count: 2.5 is no whole number"),
    (garland(pieces=[{"kind": "arch", "shape": "knot"}]), "arch: the shape 'knot' is not known: known are full"),
    (garland(pieces=[{"kind": "garland", "size": "tiny"}]), "size 'tiny' is not known"),
    (garland(pieces=[{"kind": "garland", "at": "moon"}]), "at 'moon' is not known: known are table"),
    (garland(pieces=[{"kind": "garland", "mount": "tape"}]), "mount: 'tape' is not known: write one of stand, hooks"),
    (garland(pieces=[{"kind": "garland", "shape": []}]), "facts.pieces[0].shape: [] is no word"),
    (garland(10**400), "is more than 200"),
    (garland(pieces=[{"kind": "garland"}] * 21), "more than 20 pieces"),
    ([], "facts: not an object"),
]


@pytest.mark.parametrize(("facts", "words"), WRONG, ids=[words[:50] for _, words in WRONG])
def test_a_fact_that_cannot_be_is_refused_with_its_name_and_a_remedy(facts, words):
    with pytest.raises(FactWrong) as caught:
        priced(facts)
    assert words in str(caught.value)


@pytest.mark.parametrize("kind", sorted(book().pieces.designer_decides))
def test_a_piece_without_a_recipe_is_the_designers_to_price(kind):
    rules = replace(book(), pieces=replace(book().pieces, shape_not_said={}))
    with pytest.raises(DesignerDecides, match=r"facts\.pieces\[0\]: .* the designer prices it: needed are"):
        priced(garland(pieces=[{"kind": kind}]), rules)
