"""What is asked for: never what is known, never more than three facts, the most needed first."""

from datetime import date, timedelta
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.inquiry.asking import open_facts
from assistant.inquiry.known import day_is_open, is_known
from assistant.loading.inquiry import load_asking
from assistant.rulebook import Rulebook

ASKING = load_asking(Rulebook())
CONTRACT = {"event_date", "confirm_date", "event_time", "pieces", "size", "colours", "setting", "place"}
JUNE_12 = {"status": "stated", "value": "2027-06-12"}
FULL: dict[str, Any] = {
    "event_date": JUNE_12,
    "event_time": {"status": "stated", "value": "15:00"},
    "pieces": [{"kind": "garland", "length_ft": [8, 10]}],
    "colours": ["blush", "gold"],
    "setting": {"status": "stated", "value": "indoor"},
    "place": {"status": "stated", "value": "Hollis Park"},
}

statuses = st.sampled_from(["stated", "inferred", "unclear", "impossible"])
days = st.dates(date(2027, 3, 2), date(2028, 3, 1)).map(date.isoformat)
date_facts = st.one_of(
    st.builds(lambda s, d: {"status": s, "value": d}, st.sampled_from(["stated", "inferred"]), days),
    st.builds(lambda o: {"status": "unclear", "options": sorted(o)}, st.lists(days, min_size=2, max_size=7)),
    st.builds(lambda o: {"status": "impossible", "options": o, "why": "no such day"}, st.lists(days, max_size=2)),
    st.just({"status": "unclear", "span": ["2027-10-01", "2027-10-31"]}),
)
pieces = st.lists(
    st.fixed_dictionaries(
        {"kind": st.sampled_from(["garland", "arch", "column", "wall", "bouquet", "centerpiece", "marquee"])},
        optional={"length_ft": st.just([8, 8]), "width_ft": st.just([6, 6]), "height_ft": st.just([7, 7])},
    ),
    max_size=3,
)
sheets = st.fixed_dictionaries(
    {},
    optional={
        "event_date": date_facts,
        "event_time": st.just(FULL["event_time"]),
        "pieces": pieces,
        "colours": st.lists(st.sampled_from(["red", "gold"]), max_size=2),
        "setting": st.builds(lambda s: {"status": s, "value": "indoor"}, statuses),
        "place": st.just(FULL["place"]),
    },
)


@settings(max_examples=200)
@given(sheets)
def test_no_more_than_three_facts_are_asked_and_none_that_is_known(facts: dict[str, Any]) -> None:
    asked = open_facts(facts, ASKING)
    assert len(asked) == len(set(asked)) <= 3
    assert set(asked) <= CONTRACT
    for name in set(asked) - {"confirm_date", "size"}:
        assert not is_known(facts, name)
    if "confirm_date" in asked:
        assert facts["event_date"]["status"] in ("unclear", "impossible")
    if "size" in asked:
        assert facts["pieces"]


@settings(max_examples=100)
@given(sheets, st.sampled_from(sorted(FULL)))
def test_an_answer_never_adds_a_question_but_the_size_of_a_new_piece(facts: dict[str, Any], name: str) -> None:
    before = set(open_facts(facts, ASKING))
    after = set(open_facts({**facts, name: FULL[name]}, ASKING))
    if len(before) < 3:  # three may push others out of sight
        assert after <= before


def test_a_sheet_with_everything_asks_nothing() -> None:
    assert open_facts(FULL, ASKING) == []


def test_a_first_text_without_facts_is_asked_for_the_day_and_the_piece_first() -> None:
    assert open_facts({}, ASKING)[:2] == ["event_date", "pieces"]


def test_an_inferred_day_is_not_asked_again() -> None:
    assert "confirm_date" not in open_facts({**FULL, "event_date": {**JUNE_12, "status": "inferred"}}, ASKING)


def test_two_readings_of_a_day_are_cleared_up_before_anything_else() -> None:
    facts = {"event_date": {"status": "unclear", "options": ["2027-06-07", "2027-07-06"]}}
    assert open_facts(facts, ASKING)[0] == "confirm_date"


def test_a_weekend_not_settled_yet_leaves_the_day_and_asks_for_the_piece() -> None:
    facts = {"event_date": {"status": "unclear", "options": ["2027-08-28", "2027-08-29", "2027-08-30"]}}
    assert open_facts(facts, ASKING)[:2] == ["pieces", "confirm_date"]


def test_an_impossible_day_is_cleared_up_first() -> None:
    facts = {"event_date": {"status": "impossible", "options": ["2027-02-28"], "why": "February has 28 days in 2027"}}
    assert open_facts(facts, ASKING)[0] == "confirm_date"


def test_size_is_asked_only_for_a_piece_whose_size_matters() -> None:
    def asked(*rows: dict[str, Any]) -> list[str]:
        return open_facts({**FULL, "pieces": list(rows)}, ASKING)

    assert asked({"kind": "garland"}) == ["size"]
    assert asked({"kind": "arch", "width_ft": [12, 12]}) == []
    assert asked({"kind": "centerpiece", "count": 10}, {"kind": "bouquet"}) == []
    assert asked({"kind": "garland", "length_ft": [8, 8]}, {"kind": "column", "count": 2}) == ["size"]


def test_a_setting_in_doubt_is_asked() -> None:
    assert open_facts({**FULL, "setting": {"status": "unclear"}}, ASKING) == ["setting"]


def test_thanks_and_opt_outs_are_asked_nothing() -> None:
    for kind in ("other", "opt_out", "opt_in", "help", "decline", "person"):
        assert open_facts({}, ASKING, kind=kind) == []


@given(st.integers(2, 7))
def test_neighbouring_days_are_the_clients_to_choose_and_days_apart_are_two_readings(many: int) -> None:
    first = date(2027, 8, 28)
    run = [(first + timedelta(days=n)).isoformat() for n in range(many)]
    apart = [(first + timedelta(days=7 * n)).isoformat() for n in range(many)]
    assert day_is_open({"status": "unclear", "options": run})
    assert not day_is_open({"status": "unclear", "options": apart})


def test_a_studios_own_order_of_asking_is_followed(tmp_path: Path) -> None:
    (tmp_path / "questions.yaml").write_text(
        "limits: {per_text: 2, rounds: 3, times_each: 2, listed: 1, widest_range: 25, narrowing_weight: 40}\n"
        "kinds_asked: [inquiry]\nsizes: {}\nquestions:\n"
        "- {id: place, fact: place, open: not_known, order: 1, why: the drive, words: {en: [Where?]}}\n"
        "- {id: event_date, fact: event_date, open: absent, order: 2, why: the day, words: {en: [When?]}}\n"
    )
    assert open_facts({}, load_asking(Rulebook(tmp_path))) == ["place"]
