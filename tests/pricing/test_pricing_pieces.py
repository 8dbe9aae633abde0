"""Pieces, their sizes, crew, date prices, colours and what stands beside a price."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from assistant.pricing import DesignerDecides, Learned
from assistant.pricing.colours import colour_shares, finish_of, finish_shares
from assistant.pricing.dates import date_price
from assistant.pricing.explain import explain
from tests.pricing.jobs import TODAY, book, dollars, garland, priced


def piece(**measures):
    return garland(pieces=[measures])


def units(facts):
    return [round(float(piece.size.units.likely), 2) for piece in priced(facts).priced.job.pieces]


@pytest.mark.parametrize(
    ("measures", "feet"),
    [
        ({"kind": "arch", "width_ft": 8, "height_ft": 8}, 19.38),
        ({"kind": "arch", "length_ft": 12, "width_ft": 8, "height_ft": 8}, 12),
        ({"kind": "arch", "shape": "half", "height_ft": 6, "width_ft": 8}, 13.57),
        ({"kind": "arch", "shape": "frame", "height_ft": 8, "width_ft": 8}, 20.57),
        ({"kind": "arch", "shape": "square", "height_ft": 8, "width_ft": 8}, 24),
        ({"kind": "hoop", "width_ft": 7}, 11),
        ({"kind": "hoop"}, 11),
        ({"kind": "garland", "size": "large"}, 14),
        ({"kind": "garland", "at": "table"}, 10),
        ({"kind": "garland", "width_ft": 8, "height_ft": 8}, 15.57),
        ({"kind": "garland"}, 10),
        ({"kind": "garland", "width_ft": 8}, 10),
        ({"kind": "garland", "height_ft": 6}, 9),
        ({"kind": "column"}, 6.5),
        ({"kind": "column", "length_ft": 7}, 7),
        ({"kind": "hoop", "width_ft": 6, "share": 1}, 18.85),
        ({"kind": "wall", "width_ft": 8, "height_ft": 8}, 64),
        ({"kind": "bouquet"}, 7),
        ({"kind": "centerpiece"}, 1),
        ({"kind": "marquee", "height_ft": 4}, 4),
        ({"kind": "ceiling", "shape": "loose", "width_ft": 20, "length_ft": 20}, 200),
        ({"kind": "ceiling", "shape": "loose"}, 200),
    ],
    ids=str,
)
def test_the_running_length_follows_from_what_was_said(measures, feet):
    """Worked lengths of plain geometry; defaults are common practice, no source."""
    assert units(piece(**measures)) == [pytest.approx(feet, abs=0.02)]


def test_an_arch_is_priced_as_an_organic_garland_of_its_running_length():
    arch = piece(kind="arch", width_ft=8, height_ft=8)
    assert dollars(arch) == pytest.approx(dollars(garland(19.3769)), abs=0.05)


def test_a_second_installer_comes_for_long_high_and_several_big_pieces():
    def installers(facts):
        return priced(facts).to_json()["crew"]["installers"]

    assert installers(garland(16, crew=None)) == 1
    assert installers(garland(16.5, crew=None)) == 2
    assert installers(garland(pieces=[{"kind": "arch", "length_ft": 12, "height_ft": 9.5}], crew=None)) == 2
    assert installers(garland(pieces=[{"kind": "arch", "length_ft": 12, "height_ft": 9}], crew=None)) == 1
    assert installers(garland(pieces=[{"kind": "garland", "length_ft": 10, "count": 2}], crew=None)) == 2
    assert installers(garland(pieces=[{"kind": "column", "count": 2}], crew=None)) == 1
    assert installers(garland(16.5, crew=1)) == 1


def test_helpers_drive_along_and_install_and_are_paid_at_their_wage():
    """22 an hour (20 and 10 % payroll cost) for one hour of driving and one of installing: 44 of direct cost."""
    alone, pair, three = (priced(garland(crew=crew)) for crew in (1, 2, 3))
    assert pair.crew == {"installers": 2, "designer_hours": 7.2833, "helper_hours": 2.0, "crew_hours": 9.2833}
    assert pair.priced.likely.costing.direct - alone.priced.likely.costing.direct == 44
    assert three.priced.likely.costing.direct - alone.priced.likely.costing.direct == 88


def test_helpers_come_for_the_installation_only():
    assert priced(garland(crew=2, strike=True)).crew["helper_hours"] == 2.0


def test_what_the_studio_cannot_foresee_covers_the_take_down_too():
    def width(facts):
        return priced(facts).exact[2] - priced(facts).exact[0]

    assert width(garland(strike=True)) > width(garland())


def amounts(facts, what):
    return [entry.amount for entry in priced(facts).priced.likely.costing.entries if entry.what == what]


def test_each_piece_outdoors_has_its_ballast():
    two = [{"kind": "garland", "length_ft": 8, "count": 2}]
    assert amounts(garland(pieces=two, setting="outdoor"), "ballast") == [30]


def test_the_rest_of_a_bag_is_paid_once_a_job():
    pieces = [{"kind": "column"}, {"kind": "garland", "length_ft": 8}, {"kind": "garland", "length_ft": 9}]
    assert amounts(garland(pieces=pieces), "rest of a bag for this client alone") == [16]


def test_a_wall_and_what_hangs_take_two_people_and_come_down_again():
    for measures in ({"kind": "wall"}, {"kind": "ceiling", "shape": "hung"}):
        quote = priced(garland(pieces=[measures], crew=None, strike=None))
        assert quote.to_json()["crew"]["installers"] == 2
        assert quote.hours["strike"] > 0


def test_what_is_built_indoors_only_is_the_designers_to_refuse_outdoors():
    loose = [{"kind": "ceiling", "shape": "loose"}]
    with pytest.raises(DesignerDecides, match="indoors only"):
        priced(garland(pieces=loose, setting="outdoor"))


def test_ten_centerpieces_stand_on_one_line():
    (line, *_) = priced(garland(pieces=[{"kind": "centerpiece", "count": 10}])).lines
    assert line.label == "10 x Centerpiece"


def test_a_ladder_slows_the_installation():
    low, high = (piece(kind="garland", length_ft=10, height_ft=h) for h in (9, 9.1))
    assert priced(high).hours["install"] == pytest.approx(priced(low).hours["install"] * 1.6, abs=0.001)


@pytest.mark.parametrize(
    ("day", "peak", "rush"),
    [
        (date(2027, 10, 16), "0", "0"),
        (date(2027, 3, 15), "0", "0"),  # 14 days off
        (date(2027, 3, 14), "0", "0.10"),
        (date(2027, 3, 7), "0", "0.20"),  # 6 days off
        (date(2027, 5, 9), "0.15", "0"),  # Mother's Day 2027: second Sunday of May
        (date(2027, 5, 8), "0.15", "0"),
        (date(2027, 5, 15), "0.15", "0"),  # a Saturday
        (date(2027, 5, 16), "0", "0"),
        (date(2027, 10, 31), "0.15", "0"),
        (date(2027, 12, 31), "0.15", "0"),
    ],
)
def test_a_date_has_its_price(day, peak, rush):
    """Common practice, no source; Mother's Day is the second Sunday of May (36 U.S.C. 117)."""
    found = date_price(day, TODAY, book().prices.dates)
    assert (found.peak, found.rush) == (Decimal(peak), Decimal(rush))


def test_a_rush_costs_75_at_least():
    plain, rushed = dollars(garland()), dollars(garland(event_date="2027-03-13"))
    assert rushed == pytest.approx(plain + 75, abs=0.01)
    assert dollars(garland(event_date="2027-03-05")) == pytest.approx(plain * 1.2, abs=0.01)


@pytest.mark.parametrize(
    ("clock", "adds"), [("20:59", 0), ("21:00", 50), ("22:59", 50), ("23:00", 100), ("05:59", 100), ("06:00", 0)]
)
def test_a_late_take_down_adds_its_round_sum(clock, adds):
    """100 between eleven and six seen on a policy page; the rest common practice, no source."""
    usual = dollars(garland(strike=True))
    assert dollars(garland(strike=True, strike_time=clock)) == pytest.approx(usual + adds, abs=0.01)
    assert dollars(garland(strike_time=clock)) == dollars(garland())


def test_a_rush_is_counted_on_the_price_of_the_date():
    """Saturday 15 May 2027, asked five days before: 15 % for the date, then 20 % for the rush."""
    rushed = priced(garland(event_date="2027-05-15"), today=date(2027, 5, 10)).exact[1] / 100
    assert rushed == pytest.approx(dollars(garland()) * 1.15 * 1.20, abs=0.02)


def test_three_days_off_is_the_designers_alone():
    def soon(day):
        return any("72 hours" in text for text in priced(garland(event_date=day)).to_json()["cautions"])

    assert soon("2027-03-03")
    assert not soon("2027-03-04")


@pytest.mark.parametrize(
    ("count", "shares"),
    [
        (1, "1"),
        (2, "0.65 0.35"),
        (3, "0.60 0.30 0.10"),
        (4, "0.40 0.30 0.20 0.10"),
        (5, "0.30 0.25 0.20 0.15 0.10"),
        (6, "0.30 0.25 0.20 0.15 0.05 0.05"),
    ],
)
def test_colours_share_the_balloons_by_their_number(count, shares):
    """Three colours 60/30/10 named by several tutorials; the others common practice, no source."""
    assert colour_shares(count, book().prices.colour_shares) == tuple(map(Decimal, shares.split()))


def test_colour_words_call_for_their_finish():
    words, shares = book().prices.finish_words, colour_shares(3, book().prices.colour_shares)
    assert finish_of("chrome gold", words) == "mirror"
    assert finish_of("dusty rose", words) == "doubled"
    assert finish_of("rose", words) == "plain"
    found = finish_shares(["white", "mauve", "chrome silver"], shares, words)
    assert found == {"plain": Decimal("0.60"), "doubled": Decimal("0.30"), "mirror": Decimal("0.10")}


def test_balloons_are_whole_and_add_up_over_the_colours():
    quote = priced(garland(14, colours=["blush", "gold"]))
    assert quote.balloons["5"] == {"blush": 66, "gold": 35}
    assert {size: sum(row.values()) for size, row in quote.balloons.items()} == {"5": 101, "11": 77, "17": 19, "24": 4}


def test_a_doubled_balloon_counts_as_two_with_its_own_waste():
    """14 ft x 6.5 x 2 x 1.15 = 209.3 of 5 in."""
    assert sum(priced(garland(14, finish={"doubled": 1})).balloons["5"].values()) == 210


def test_given_shares_of_the_colours_win_over_the_rule():
    quote = priced(garland(14, colours=["blush", "gold"], colour_shares={"gold": 0.75, "blush": 0.25}))
    assert quote.balloons["11"] == {"blush": 19, "gold": 58}
    mirror = garland(14, finish=None, colours=["white", "chrome"], colour_shares={"white": 0.7, "chrome": 0.3})
    assert priced(mirror).exact == priced(garland(14, finish={"mirror": 0.3})).exact


def test_the_supply_list_counts_mirror_balloons_once_with_waste_of_their_own():
    """14 ft x 6.5 of 5 in: 10 % waste indoors for mirror as for plain, 25 % outdoors."""
    assert sum(priced(garland(14, finish={"mirror": 1})).balloons["5"].values()) == 101
    assert sum(priced(garland(14, finish={"mirror": 0.5}, setting="outdoor")).balloons["5"].values()) == 114
    wasteful = replace(book().prices.finishes.mirror, supply_waste=Decimal("0.30"))
    finishes = replace(book().prices.finishes, mirror=wasteful)
    rules = replace(book(), prices=replace(book().prices, finishes=finishes))
    assert sum(priced(garland(14, finish={"mirror": 1}), rules).balloons["5"].values()) == 119


def test_the_supply_list_of_a_column_pair():
    """A maker's sheet: 32 of 11 in for 6.5 ft; two with a tenth more are 70.4."""
    quote = priced(garland(pieces=[{"kind": "column", "count": 2, "height_ft": 6.5}]))
    assert sum(quote.balloons["11"].values()) == 71


def test_what_finished_jobs_taught_moves_the_supply_list():
    taught = replace(book(), learned={"garland": Learned(balloons=Decimal("1.2"), jobs=9)})
    assert sum(priced(garland(14), taught).balloons["5"].values()) == 121  # 14 x 6.5 x 1.1 x 1.2 = 120.12


def test_a_building_line_names_the_recipe_of_its_density():
    for density in ("light", "standard", "lush"):
        (line, *_) = priced(garland(14, density=density)).lines
        assert book().where("pieces.yaml", "work", "organic", "builds", density) in line.rules


def test_a_ceilings_share_is_told_in_words():
    def why(**share):
        piece = {"kind": "ceiling", "shape": "loose", "width_ft": 20, "length_ft": 20, **share}
        return next(row.why for row in priced(garland(pieces=[piece])).priced.job.assumed if row.fact == "size")

    assert "25% to 50% of it covered" in why()
    assert "50% covered" in why(share=0.5)


def test_the_packs_hold_the_balloons_needed():
    quote = priced(garland(20))
    for pack in quote.packs:
        held = sum(bag.count * number for bag, number in pack.purchase.bags)
        assert held == pack.needed + pack.purchase.left
        assert pack.needed == quote.balloons[pack.size][pack.colour]


def test_mirror_colours_are_bought_at_the_mirror_price():
    """A bag of 50 of 11 in costs 10.50 plain, 2.3 times that as mirror finish."""
    costs = {
        pack.colour: pack.purchase.cost for pack in priced(garland(8, colours=["white", "chrome gold"])).packs
        if pack.size == "11"
    }  # fmt: skip
    assert costs == {"white": Decimal("10.50"), "chrome gold": Decimal("10.50") * Decimal("2.3")}


def test_the_minimum_order_holds_for_the_smallest_job():
    quote = priced(garland(1, density="light", stand=False, accents=False, client_only_colour=False, miles=0))
    assert quote.exact[1] == quote.shown[0] == 35000
    assert "minimum order" in quote.to_json()["for_designer"][0]


def test_a_budget_below_the_floor_is_told_to_the_designer():
    told = priced(garland(budget=[None, 300])).to_json()["for_designer"]
    assert any("below the floor" in text for text in told)
    assert not any("floor" in text for text in priced(garland(budget=[None, 600])).to_json()["for_designer"])


def test_a_price_off_the_usual_band_is_told_to_the_designer():
    dear = replace(book().prices.wages, owner_per_hour=Decimal(90))
    rules = replace(book(), prices=replace(book().prices, wages=dear))
    told = priced(garland(), rules).to_json()["for_designer"]
    assert any("from the usual 520 for 14 ft" in text for text in told)
    assert not priced(garland()).to_json()["for_designer"]
    several = garland(pieces=[{"kind": "garland", "length_ft": 14, "count": 3}])
    assert not any("from the usual" in text for text in priced(several).to_json()["for_designer"])


@pytest.mark.parametrize(
    "special",
    [
        {"finish": {"mirror": 0.3}},
        {"finish": {"doubled": 0.5}},
        {"setting": "outdoor"},
        {"strike": True},
        {"miles": 61},
        {"event_date": "2027-06-12"},
        {"pieces": [{"kind": "garland", "length_ft": 14}, {"kind": "column"}]},
        {"pieces": [{"kind": "wall"}]},
    ],
    ids=str,
)
def test_only_a_plain_garland_nearby_is_compared_with_the_usual_band(special):
    dear = replace(book().prices.wages, owner_per_hour=Decimal(90))
    rules = replace(book(), prices=replace(book().prices, wages=dear))
    assert not any("from the usual" in text for text in priced(garland(**special), rules).to_json()["for_designer"])


def test_the_distance_from_the_usual_band_is_told_in_percent():
    dear = replace(book().prices.wages, owner_per_hour=Decimal(60))
    rules = replace(book(), prices=replace(book().prices, wages=dear))
    price = priced(garland(), rules).exact[1] / 100
    told = priced(garland(), rules).to_json()["for_designer"]
    assert told == [
        f"{(price / 520 - 1) * 100:+.0f} % from the usual 520 for 14 ft plain indoors: check the facts and the prices."
    ]


def test_cautions_follow_the_job_and_each_leaves_the_last_word_to_who_decides():
    def cautions(**facts):
        return priced(garland(**facts)).to_json()["cautions"]

    def told(word, **facts):
        return any(word in text for text in cautions(**facts))

    assert all(text.endswith(book().cautions.who_decides) for text in cautions(setting="outdoor"))
    assert told("Choking")
    assert told("latex")
    assert told("wind", setting="outdoor")
    assert not told("wind")
    assert told("60 miles", miles=61)
    assert not told("60 miles", miles=60)
    assert told("ladders", pieces=[{"kind": "arch", "width_ft": 8, "height_ft": 10}])
    assert told("brings them back", pieces=[{"kind": "column"}], strike=False)
    assert not told("brings them back", pieces=[{"kind": "column"}], strike=True)


def test_what_finished_jobs_taught_moves_hours_and_narrows_the_range():
    taught = replace(book(), learned={"garland": Learned(build=Decimal("1.1"), jobs=9)})
    before, after = priced(garland()), priced(garland(), taught)
    assert after.hours["build"] == pytest.approx(before.hours["build"] * 1.1, abs=0.001)
    assert after.exact[2] - after.exact[0] < before.exact[2] - before.exact[0]


def test_each_line_names_rules_that_stand_where_they_say():
    for line in priced(garland(strike=True, event_date="2027-03-06")).lines:
        assert line.rules
        assert line.facts
        assert all(rule.split(":")[0] in ("prices.yaml", "pieces.yaml") for rule in line.rules)


def test_a_take_down_that_is_not_done_costs_nothing_on_its_line():
    pieces = [{"kind": "garland", "at": "garage door"}, {"kind": "bouquet", "count": 3}]
    quote = priced(garland(pieces=pieces, strike=None, miles=None, setting=None, crew=None, discount="repeat"))
    take_down = next(line for line in quote.lines if line.label.startswith("Take-down"))
    assert (take_down.low, take_down.likely) == (0, 0)
    assert take_down.high > 0


def test_the_tree_behind_a_price_shows_every_entry_with_its_rule():
    quote = priced(garland(strike=True, event_date="2027-03-06"))
    tree = explain(quote)
    for entry in quote.priced.likely.costing.entries:
        assert f"{entry.amount:.2f}  {entry.words}" in tree
    for words in ("direct cost", "Short notice", "[prices.yaml:", "floor"):
        assert words in tree


def test_the_deposit_is_half_and_all_of_it_for_short_notice():
    assert priced(garland()).deposit == priced(garland()).shown[1] // 2
    fortnight, sooner = (priced(garland(event_date=day)) for day in ("2027-03-15", "2027-03-14"))
    assert fortnight.deposit == fortnight.shown[1] // 2
    assert sooner.deposit == sooner.shown[1]


def test_a_job_that_runs_over_leaves_less_an_hour():
    low, likely, high = priced(garland()).take_home_per_hour
    assert low < likely < high
    assert likely / 100 > book().prices.wages.owner_per_hour


def test_a_wide_range_asks_for_one_more_answer_while_there_is_one():
    def told(facts):
        return any("range is wide" in text for text in priced(facts).to_json()["for_designer"])

    assert told(garland([6, 30]))
    assert not told(garland(60))
