"""A quote can be recomputed to the cent from its record and the snapshot of its price book."""

import json
from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given, settings

from assistant.pricing import Learned
from assistant.pricing.archive import NotTheSame, recompute, record, restore, snapshot
from assistant.pricing.explain import explain
from tests.pricing.jobs import book, garland, priced
from tests.pricing.test_pricing_properties import sheets


def through_a_file(value):
    return json.loads(json.dumps(value))


def test_a_price_book_comes_back_from_plain_data_as_it_was():
    back = restore(through_a_file(snapshot(book())))
    for part in ("prices", "pieces", "cautions", "gas", "version", "lines", "learned"):
        assert getattr(back, part) == getattr(book(), part)


def test_each_file_says_from_when_its_figures_hold_and_where_they_come_from():
    for file in (book().prices, book().pieces, book().gas):
        assert file.valid_from.isoformat() == "2026-01-01"
        assert "common practice" in file.source


KEPT = through_a_file(snapshot(book()))


@settings(max_examples=25, deadline=None)
@given(sheets)
def test_a_kept_quote_is_recomputed_to_the_cent(facts):
    quote = priced(facts)
    again = recompute(through_a_file(record(quote)), KEPT)
    assert again.to_json() == quote.to_json()
    assert explain(again) == explain(quote)


def test_later_rules_do_not_change_a_kept_quote():
    quote = priced(garland())
    kept, then = record(quote), snapshot(book())
    dearer = replace(book().prices, minimum_order=Decimal(2000))
    assert priced(garland(), replace(book(), prices=dearer, version="later")).exact != quote.exact
    assert recompute(kept, then).exact == quote.exact


def test_the_miles_found_then_are_kept():
    facts = garland(miles=None, place={"status": "stated", "value": "62629"})
    kept = through_a_file(record(priced(facts)))
    assert list(kept["road_miles"]) == ["62629"]
    assert recompute(kept, KEPT).to_json() == priced(facts).to_json()
    unfound = garland(miles=None, place="Larkspur Tea Room")
    assert recompute(through_a_file(record(priced(unfound))), KEPT).exact == priced(unfound).exact


def test_what_was_learned_then_is_kept():
    taught = replace(book(), learned={"garland": Learned(build=Decimal("1.1"), jobs=9)})
    quote = priced(garland(), taught)
    assert recompute(record(quote), through_a_file(snapshot(taught))).exact == quote.exact


def test_a_snapshot_of_another_version_is_refused():
    kept = record(priced(garland()))
    with pytest.raises(NotTheSame, match="take the one it was made with"):
        recompute(kept, {**KEPT, "version": "another"})
    with pytest.raises(NotTheSame, match="model 0"):
        recompute({**kept, "model": 0}, KEPT)


def test_a_record_that_was_changed_is_noticed():
    kept = record(priced(garland()))
    with pytest.raises(NotTheSame, match="the record was changed"):
        recompute({**kept, "facts": garland(15)}, KEPT)
