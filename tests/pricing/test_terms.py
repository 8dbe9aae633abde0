"""Discounts, zones, pick-up, tax, deposit and balance, the window, and a late or long way."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.pricing import DesignerDecides, FactWrong
from assistant.pricing.explain import explain
from assistant.pricing.money import floor_price
from assistant.pricing.rates import Discount
from assistant.pricing.terms import terms_of
from assistant.pricing.travel import Zone
from tests.pricing.jobs import book, dollars, garland, priced

FEW = settings(max_examples=40, deadline=None)


def rules(**changes):
    """Return the shipped book with some of prices.yaml's values changed."""
    return replace(book(), prices=replace(book().prices, **changes))


def zoned(*zones):
    rows = [Zone(Decimal(miles), Decimal(fee)) for miles, fee in zones]
    return rules(travel=replace(book().prices.travel, zones=rows))


def notes(facts, price_book=None):
    return " ".join(priced(facts, price_book).to_json()["for_designer"])


# Discounts: 5 to 10 %, on the profit share only, one at a time, with an end date: common practice, no source.


def test_a_discount_is_a_share_of_the_price():
    assert dollars(garland(discount="repeat")) == pytest.approx(dollars(garland()) * 0.90, abs=0.01)
    quote = priced(garland(discount="planner"))
    assert quote.to_json()["discount"]["name"] == "planner"
    assert quote.to_json()["discount"]["likely"] == pytest.approx(dollars(garland()) * 10, abs=1)


def test_a_discount_lowers_the_lines_which_still_add_up():
    quote = priced(garland(discount="repeat"))
    assert sum(line.likely for line in quote.lines) == quote.shown[1]


def test_the_tree_behind_a_price_shows_the_discount_with_its_rule():
    quote = priced(garland(discount="repeat"))
    tree = explain(quote)
    assert f"discount -{quote.priced.likely.discount:.2f}, out of the profit  [prices.yaml:" in tree
    assert f"{dollars(garland()):.2f} = (direct cost" in tree


def test_without_a_discount_none_is_taken_or_told():
    quote = priced(garland())
    assert quote.priced.likely.discount == 0
    assert "discount" not in explain(quote)


def test_no_discount_goes_deeper_than_the_profit():
    """Half off would go into the wages; the floor (cost, wages, overhead, card fee) stays."""
    deep = rules(discounts={"half": Discount(Decimal("0.5"), date(2027, 12, 31))})
    case = priced(garland(discount="half"), deep).priced.likely
    assert case.base == pytest.approx(floor_price(case.sums.direct, book().prices.shares))


def test_a_weekday_discount_holds_on_weekdays_only():
    thursday, friday = (garland(discount="weekday", event_date=f"2027-10-{day}") for day in (14, 15))
    assert dollars(thursday) == pytest.approx(dollars(garland()) * 0.95, abs=0.01)
    assert dollars(friday) == dollars(garland())
    assert any("holds for events on monday" in row.why for row in priced(friday).priced.job.assumed)
    assert "discount" not in priced(friday).to_json()


def test_a_discount_that_ended_is_not_taken_and_says_so():
    quote = priced(garland(discount="repeat", event_date="2028-10-16"), today=date(2028, 1, 1))
    assert any("'repeat' ended on 2027-12-31" in row.why for row in quote.priced.job.assumed)
    assert priced(garland(discount="repeat"), today=date(2027, 3, 1)).priced.likely.discount > 0
    last = priced(garland(discount="repeat", event_date="2028-10-16"), today=date(2027, 12, 31))
    assert last.priced.likely.discount > 0


@pytest.mark.parametrize(
    ("discount", "words"),
    [(["repeat", "planner"], "give one, discounts are not added up"), ("friends", "'friends' is not known")],
    ids=str,
)
def test_a_discount_that_cannot_be_is_refused(discount, words):
    with pytest.raises(FactWrong, match=words):
        priced(garland(discount=discount))


# Zones: round sums for each visit seen on policy pages: 55 / 65 / 75 for 20 / 30 / 40 miles.

ZONES = zoned((20, 55), (30, 65), (40, 75))


def test_a_zone_replaces_miles_and_hours_in_the_price():
    """Without its visit the reference job is 20 miles x 2 x .725 + 1 h x 30 = 59 of cost cheaper."""
    without = dollars(garland()) - 59 / 0.701
    assert dollars(garland(), ZONES) == pytest.approx(without + 55, abs=0.01)
    assert dollars(garland(miles=20.1), ZONES) == pytest.approx(without + 65, abs=0.01)


def test_both_visits_have_their_zone():
    one, two = dollars(garland(), ZONES), dollars(garland(strike=True), ZONES)
    assert two - one == pytest.approx(55 + 15 / 0.701, abs=0.01)


def test_beyond_the_zones_miles_and_hours_count_and_never_less_than_the_last_zone():
    assert dollars(garland(miles=60), ZONES) == dollars(garland(miles=60))
    dear = zoned((20, 500))
    assert dollars(garland(miles=21), dear) == dollars(garland(miles=20), dear)


def test_a_cheap_zone_does_not_hide_what_the_drive_takes():
    """The designer's hours and the miles stay real: less is left an hour."""
    free = zoned((30, 0))
    assert priced(garland(), free).hours == priced(garland()).hours
    assert priced(garland(), free).priced.likely.sums.paid_out == priced(garland()).priced.likely.sums.paid_out


@FEW
@given(*[st.decimals("0", "100", places=1).map(float)] * 2, st.booleans())
def test_a_farther_place_never_costs_less_in_zones(one, other, strike):
    near, far = (priced(garland(miles=miles, strike=strike), ZONES).exact for miles in sorted((one, other)))
    assert all(low <= high for low, high in zip(near, far, strict=True))


# Pick-up: 200 seen on a policy page, default 150; 6 to 8 ft: common practice, no source.


def test_what_is_picked_up_has_no_drive_no_install_and_no_take_down():
    quote = priced(garland(pick_up=True, strike=None, miles=None, crew=None, setting="outdoor"))
    assert (quote.hours["drive"], quote.hours["install"], quote.hours["strike"]) == (0, 0, 0)
    assert quote.to_json()["crew"]["installers"] == 1
    assert not any(entry.what in ("ballast", "parking") for entry in quote.priced.likely.costing.entries)
    assert {row.fact for row in quote.priced.narrowing} == set()


def test_the_smallest_pick_up_is_150():
    bouquet = garland(pieces=[{"kind": "bouquet", "size": "small"}], pick_up=True, client_only_colour=False)
    quote = priced(bouquet)
    assert quote.exact[1] == 15000
    assert quote.shown[0] == 15000


def test_a_long_piece_to_pick_up_is_told_to_the_designer():
    assert "ask what car comes" in notes(garland(8.1, pick_up=True))
    assert "ask what car comes" not in notes(garland(8, pick_up=True))


def test_what_takes_two_or_hangs_is_not_for_picking_up():
    for kind in ("wall", "drop"):
        with pytest.raises(DesignerDecides, match="not for picking up"):
            priced(garland(pieces=[{"kind": kind}], pick_up=True))


def test_a_pick_up_with_a_take_down_is_refused():
    with pytest.raises(FactWrong, match="leave one of them out"):
        priced(garland(pick_up=True, strike=True))


# Tax by kind of line, off until set; half up: Streamlined Sales and Use Tax Agreement, section 324.


def taxed(**rates):
    return rules(tax=replace(book().prices.tax, **{kind: Decimal(rate) for kind, rate in rates.items()}))


def test_tax_is_off_until_the_studio_sets_a_rate():
    assert priced(garland()).tax is None
    answer = priced(garland()).to_json()
    assert (answer["tax"], answer["tax_lines"]) == (None, {})


def test_each_kind_of_line_is_taxed_for_its_share_of_the_price():
    """Direct cost 363.94: stand wear 12 is rental; 99.19 less that goods; 29 + 10 + 30 delivery; the rest labour."""
    quote = priced(garland(), taxed(goods="0.0625", rental="0.05", delivery="0.04"))
    price, lines = quote.shown[1], quote.tax.by_kind
    direct = Decimal("363.94")
    shares = {"goods": (Decimal("87.19"), "0.0625"), "rental": (12, "0.05"), "delivery": (Decimal("76.25"), "0.04")}
    for kind, (cost, rate) in shares.items():
        assert lines[kind][1] == pytest.approx(float(Decimal(cost) / direct * price * Decimal(rate)), abs=1)
    assert set(lines) == set(shares)
    assert quote.tax.total[1] == sum(row[1] for row in lines.values())
    assert quote.to_json()["tax"]["likely"] == quote.tax.total[1]


def test_a_take_down_has_its_own_rate():
    only = taxed(strike="0.07")
    assert priced(garland(), only).tax.total == (0, 0, 0)
    quote = priced(garland(strike=True), only)
    strike = Decimal(74) / Decimal("437.94") * quote.shown[1]
    assert quote.tax.total[1] == pytest.approx(float(strike) * 0.07, abs=1)


# Deposit and balance.


def test_the_balance_is_due_a_week_before_the_event():
    """7 days is the middle of 11 policy pages; 50 % on 13 of 21."""
    quote = priced(garland())
    payment = quote.to_json()["payment"]
    assert payment == {
        "deposit": quote.shown[1] // 2,
        "deposit_due": "2027-03-08",
        "balance": quote.shown[1] - quote.shown[1] // 2,
        "balance_due": "2027-10-09",
    }


def test_a_balance_is_never_due_before_today_nor_a_deposit_after_the_event():
    payment = priced(garland(event_date="2027-03-16")).to_json()["payment"]
    assert payment["balance_due"] == "2027-03-09"
    soon = priced(garland(event_date="2027-03-05")).to_json()
    assert (soon["payment"]["balance"], soon["payment"]["balance_due"]) == (0, None)
    assert soon["payment"]["deposit_due"] == soon["valid_until"] == "2027-03-05"


def test_without_a_day_no_balance_day_is_told():
    assert priced(garland(event_date=None)).to_json()["payment"]["balance_due"] is None


def test_a_quote_stands_a_week_and_a_large_one_two():
    assert priced(garland()).to_json()["valid_until"] == "2027-03-08"
    assert priced(garland(90)).to_json()["valid_until"] == "2027-03-15"


@pytest.mark.parametrize(("cents", "at_once", "days"), [(34999, True, 7), (35000, False, 7), (150000, False, 14)])
def test_the_limits_of_small_and_large_orders(cents, at_once, days):
    """All of it below 350, two weeks from 1,500 on: common practice, no source."""
    terms = terms_of(cents, priced(garland()).priced.job, book().prices)
    assert (terms.balance == 0) == at_once
    assert (terms.valid_until - date(2027, 3, 1)).days == days


def test_the_zones_line_names_its_row():
    zone = next(e for e in priced(garland(), ZONES).priced.likely.costing.entries if "zone" in e.what)
    assert zone.rules == (("prices.yaml", ("travel", "zones", 0)),)
    beyond = next(e for e in priced(garland(), zoned((10, 900))).priced.likely.costing.entries if "zone" in e.what)
    assert beyond.rules == (("prices.yaml", ("travel", "zones")),)


@FEW
@given(st.integers(1, 60), st.sampled_from(["2027-03-04", "2027-03-20", "2027-10-16", None]))
def test_deposit_and_balance_are_the_price(feet, day):
    quote = priced(garland(feet, event_date=day))
    assert quote.terms.deposit + quote.terms.balance == quote.shown[1]


# Window, long carry.


def test_a_short_window_brings_a_second_installer():
    def installers(**facts):
        return priced(garland(9, crew=None, **facts)).to_json()["crew"]["installers"]

    assert (installers(window_minutes=89), installers(window_minutes=90)) == (2, 1)
    assert installers(access_time="12:00", event_time="14:29") == 2
    assert installers(access_time="12:00") == installers(event_time="14:00") == 1
    assert installers(access_time="12:00", event_time="14:30") == 1


def test_a_window_that_is_too_short_is_told_to_the_designer():
    assert "the window is 59 min" in notes(garland(window_minutes=59))  # one person takes 60
    assert "the window is" not in notes(garland(window_minutes=60))
    assert "the window is" not in notes(garland(window_minutes=30, crew=2))


@pytest.mark.parametrize(
    ("facts", "words"),
    [
        ({"window_minutes": -5}, "facts.window_minutes: -5 is below 0"),
        ({"access_time": "15:00", "event_time": "14:00"}, "facts.access_time is after facts.event_time"),
        ({"access_time": "noonish", "event_time": "14:00"}, "facts.access_time: 'noonish' is no time of day"),
        ({"long_carry": "far"}, "facts.long_carry: 'far' is neither true nor false"),
        ({"pick_up": "yes"}, "facts.pick_up: 'yes' is neither true nor false"),
    ],
    ids=str,
)
def test_a_window_that_cannot_be_is_refused(facts, words):
    with pytest.raises(FactWrong) as caught:
        priced(garland(**facts))
    assert words in str(caught.value)


def test_a_long_way_from_the_van_takes_twenty_minutes():
    """15 to 30 min: common practice, no source."""
    assert priced(garland(long_carry=True)).hours["install"] == pytest.approx(1 + 1 / 3, abs=0.001)
