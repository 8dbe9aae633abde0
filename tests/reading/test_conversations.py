"""Whole conversations, invented and labelled by hand: every labelled fact must come out as labelled."""

import json
from collections import Counter
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from assistant.inquiry.merge import Sheet, merge
from tests.reading.phrases import READER

FILE = Path(__file__).parent.parent / "corpus" / "conversations.jsonl"
CASES: list[dict[str, Any]] = [json.loads(line) for line in FILE.read_text(encoding="utf-8").splitlines()]
TOLERANCE = 0.06  # of a length: labels give metres to a tenth of a foot


def sheet(case: dict[str, Any]) -> Sheet:
    today = date.fromisoformat(case["today"])
    readings = [
        READER.read(text, today=today, channel=case["channel"], locale=case["locale"]) for text in case["messages"]
    ]
    return merge(readings, today=today)


def value(fact: Any) -> Any:
    return fact.get("value") if isinstance(fact, dict) else fact


def words(text: str) -> set[str]:
    return set("".join(c if c.isalnum() else " " for c in text.lower()).split())


def labelled(key: str) -> list[Any]:
    return [pytest.param(case, id=case["id"]) for case in CASES if key in case["expect"]]


@pytest.mark.parametrize("case", labelled("event_time"))
def test_the_time_is_as_labelled(case: dict[str, Any]) -> None:
    assert value(sheet(case).facts.get("event_time")) == case["expect"]["event_time"]


@pytest.mark.parametrize("case", labelled("occasion"))
def test_the_occasion_is_as_labelled(case: dict[str, Any]) -> None:
    assert value(sheet(case).facts.get("occasion")) == case["expect"]["occasion"]


@pytest.mark.parametrize("case", labelled("name"))
def test_the_clients_name_is_as_labelled(case: dict[str, Any]) -> None:
    assert sheet(case).facts.get("name") == case["expect"]["name"]


@pytest.mark.parametrize("case", labelled("event_date"))
def test_the_day_is_as_labelled(case: dict[str, Any]) -> None:
    want = case["expect"]["event_date"]
    got = sheet(case).facts.get("event_date")
    assert value(got) == want.get("value")


@pytest.mark.parametrize("case", labelled("colours"))
def test_the_colours_are_as_labelled(case: dict[str, Any]) -> None:
    assert Counter(sheet(case).facts.get("colours", [])) == Counter(case["expect"]["colours"])


@pytest.mark.parametrize("case", labelled("setting"))
def test_the_setting_is_as_labelled(case: dict[str, Any]) -> None:
    want = case["expect"]["setting"]
    assert value(sheet(case).facts.get("setting")) == want.get("value")


@pytest.mark.parametrize("case", labelled("place"))
def test_the_place_holds_the_labelled_words(case: dict[str, Any]) -> None:
    want, got = case["expect"]["place"], value(sheet(case).facts.get("place"))
    if want is None:
        assert got is None
    else:
        assert words(want) <= words(got)


@pytest.mark.parametrize("case", labelled("budget"))
def test_the_budget_is_as_labelled(case: dict[str, Any]) -> None:
    assert sheet(case).facts.get("budget") == case["expect"]["budget"]


@pytest.mark.parametrize("case", labelled("pieces"))
def test_the_pieces_are_as_labelled(case: dict[str, Any]) -> None:
    want, got = case["expect"]["pieces"], list(sheet(case).facts.get("pieces", []))
    assert Counter(piece["kind"] for piece in got) == Counter(piece["kind"] for piece in want)
    for piece in want:
        match = next((other for other in got if fits(piece, other)), None)
        assert match is not None, (piece, got)
        got.remove(match)


def fits(want: dict[str, Any], got: dict[str, Any]) -> bool:
    if want["kind"] != got["kind"] or ("count" in want and want["count"] != got.get("count", 1)):
        return False
    sizes = ("length_ft", "width_ft", "height_ft")
    if {key for key in sizes if key in want} != {key for key in sizes if key in got}:
        return False
    pairs = [pair for key in sizes if key in want for pair in zip(want[key], got[key], strict=True)]
    return all(abs(one - other) <= TOLERANCE * max(one, other, 1) for one, other in pairs)


@pytest.mark.parametrize("case", labelled("kind"))
def test_the_kind_of_the_last_message_is_as_labelled(case: dict[str, Any]) -> None:
    assert sheet(case).kind == case["expect"]["kind"]


def test_every_fact_quotes_the_clients_own_words() -> None:
    for case in CASES:
        for fact in sheet(case).facts.values():
            places = fact.get("from", []) if isinstance(fact, dict) else []
            assert all(0 <= start < end <= len(case["messages"][message]) for message, start, end in places)
