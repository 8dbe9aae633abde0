"""Conversations: later words correct earlier ones, and nothing turns certain by itself."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.inquiry.merge import Edit, Sheet, merge
from assistant.loading.reading import load_reader
from assistant.reading import Finding, Reading
from assistant.rulebook import Rulebook

READER = load_reader(Rulebook())
TODAY = date(2027, 3, 1)
CORPUS = Path(__file__).resolve().parent.parent / "corpus" / "dates_conversations.yaml"
CONVERSATIONS = yaml.load(CORPUS.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)["conversations"]


def sheet(*texts: str, today: date = TODAY, channel: str = "sms", locale: str = "en_US") -> Sheet:
    return merge([READER.read(t, today=today, channel=channel, locale=locale) for t in texts], today=today)


def said(*findings: Finding, kind: str = "inquiry") -> Reading:
    return Reading(kind, findings)


@pytest.mark.parametrize("case", CONVERSATIONS, ids=lambda case: " / ".join(case["messages"])[:60])
def test_the_date_stands_as_a_careful_assistant_would_note_it(case: dict[str, Any]) -> None:
    today = date.fromisoformat(case["today"])
    after = sheet(*case["messages"], today=today, channel=case["channel"], locale=case["locale"])
    day = after.facts.get("event_date")
    given = "none" if day is None else day.get("value") or day["status"]
    assert (after.kind, given) == (case["kind"], case["gives"])
    assert after.facts.get("event_time", {}).get("value", "") == case.get("time", "")


class TestPieces:
    """A piece named again changes; taken back it goes; a size alone finds its piece."""

    def test_a_size_said_alone_goes_to_the_piece_that_lacks_one(self) -> None:
        after = merge(
            [said(Finding("pieces", {"kind": "wall"}, spans=((0, 4),))),
             said(Finding("size", {"width_ft": [8, 8], "height_ft": [8, 8]}, spans=((0, 3),)))],
            today=TODAY,
        )  # fmt: skip
        assert after.facts["pieces"] == [
            {"kind": "wall", "width_ft": [8, 8], "height_ft": [8, 8], "from": [[0, 0, 4], [1, 0, 3]]}
        ]

    def test_a_size_said_before_its_piece_waits_for_it(self) -> None:
        after = merge(
            [said(Finding("size", {"bare_ft": [12, 12]})), said(Finding("pieces", {"kind": "garland"}))], today=TODAY
        )
        assert after.facts["pieces"] == [{"kind": "garland", "length_ft": [12, 12]}]

    def test_a_bare_size_is_an_arch_s_width_and_a_column_s_height(self) -> None:
        for kind, key in (("arch", "width_ft"), ("column", "height_ft")):
            after = merge(
                [said(Finding("pieces", {"kind": kind})), said(Finding("size", {"bare_ft": [7, 7]}))], today=TODAY
            )
            assert after.facts["pieces"] == [{"kind": kind, key: [7, 7]}]

    def test_just_the_arch_leaves_only_the_arch(self) -> None:
        first = said(Finding("pieces", {"kind": "arch"}), Finding("pieces", {"kind": "column", "count": 2}))
        after = merge([first, said(Finding("pieces", {"kind": "arch"}, mode="only"))], today=TODAY)
        assert after.facts["pieces"] == [{"kind": "arch"}]

    def test_a_withdrawn_piece_goes(self) -> None:
        first = said(Finding("pieces", {"kind": "arch"}), Finding("pieces", {"kind": "column"}))
        after = merge([first, said(Finding("pieces", {"kind": "column"}, mode="withdraw"))], today=TODAY)
        assert after.facts["pieces"] == [{"kind": "arch"}]

    def test_the_same_piece_named_again_is_changed_another_is_added(self) -> None:
        ten, twelve = {"kind": "garland", "length_ft": [10, 10]}, {"kind": "garland", "length_ft": [12, 12]}
        changed = merge([said(Finding("pieces", ten)), said(Finding("pieces", twelve))], today=TODAY)
        added = merge(
            [said(Finding("pieces", ten)), said(Finding("pieces", twelve, extra={"another": True}))], today=TODAY
        )
        assert changed.facts["pieces"] == [twelve]
        assert added.facts["pieces"] == [ten, twelve]

    def test_two_pieces_of_a_kind_in_one_text_stay_two(self) -> None:
        ten, six = {"kind": "garland", "length_ft": [10, 10]}, {"kind": "garland", "length_ft": [6, 6]}
        assert merge([said(Finding("pieces", ten), Finding("pieces", six))], today=TODAY).facts["pieces"] == [ten, six]

    def test_a_count_said_alone_goes_to_the_piece_that_is_counted(self) -> None:
        first = said(Finding("pieces", {"kind": "centerpiece", "count": 10}), Finding("pieces", {"kind": "arch"}))
        after = merge([first, said(Finding("count", {"count": 12}))], today=TODAY)
        assert after.facts["pieces"][0]["count"] == 12


class TestOtherFacts:
    """Colours add up; the last word counts; what was inferred never replaces what was stated."""

    def test_colours_of_several_messages_add_up_and_those_ruled_out_go(self) -> None:
        after = merge(
            [said(Finding("colours", "black")), said(Finding("colours", "gold")),
             said(Finding("colours", "rose gold"), Finding("colours", "gold", mode="withdraw"))],
            today=TODAY,
        )  # fmt: skip
        assert after.facts["colours"] == ["black", "rose gold"]

    def test_colours_said_anew_replace_all_before(self) -> None:
        anew = said(Finding("colours", "navy", mode="only"), Finding("colours", "gold"))
        assert merge([said(Finding("colours", "pink")), anew], today=TODAY).facts["colours"] == ["navy", "gold"]

    def test_the_last_place_counts(self) -> None:
        after = merge([said(Finding("place", "Oak Hall")), said(Finding("place", "Elm Hall"))], today=TODAY)
        assert after.facts["place"] == {"status": "stated", "value": "Elm Hall"}

    def test_an_inferred_setting_does_not_replace_a_stated_one(self) -> None:
        after = merge(
            [said(Finding("setting", "indoor")), said(Finding("setting", "outdoor", "inferred"))], today=TODAY
        )
        assert after.facts["setting"]["value"] == "indoor"

    def test_budget_and_name_are_plain_values_whose_words_are_kept_aside(self) -> None:
        after = merge([said(Finding("budget", (None, 400), spans=((2, 5),)), Finding("name", "Dana"))], today=TODAY)
        assert after.facts == {"budget": [None, 400], "name": "Dana"}
        assert after.sources["budget"] == [[0, 2, 5]]


class TestEdits:
    """The designer's correction replaces what came before, and later words may correct it again."""

    def test_an_edit_replaces_and_none_takes_away(self) -> None:
        day = {"status": "stated", "value": "2027-06-19"}
        after = merge(
            [READER.read("june 12 pink arch", today=TODAY), Edit({"event_date": day, "colours": None})], today=TODAY
        )
        assert after.facts["event_date"]["value"] == "2027-06-19"
        assert "colours" not in after.facts

    def test_a_later_word_corrects_an_edit(self) -> None:
        day = {"status": "stated", "value": "2027-06-19"}
        entries = [Edit({"event_date": day}), READER.read("make it the 26th", today=TODAY)]
        assert merge(entries, today=TODAY).facts["event_date"]["value"] == "2027-06-26"

    def test_an_edit_of_an_unknown_fact_is_kept(self) -> None:
        assert merge([Edit({"miles": 20})], today=TODAY).facts == {"miles": 20}

    def test_an_edit_is_no_message(self) -> None:
        after = merge([Edit({"name": "Dana"}), READER.read("june 12", today=TODAY)], today=TODAY)
        assert after.facts["event_date"]["from"] == [[0, 0, 7]]


def test_every_fact_points_at_the_words_that_gave_it() -> None:
    texts = ("need a garland", "june 12", "at 3pm")
    after = sheet(*texts)
    (message, start, end), *_ = after.facts["event_date"]["from"]
    assert texts[message][start:end] == "june 12"
    (message, start, end), *_ = after.facts["event_time"]["from"]
    assert texts[message][start:end] in ("3pm", "at 3pm")


def test_no_message_is_an_empty_sheet() -> None:
    assert merge([], today=TODAY) == Sheet("other", {}, {})


WORDS = st.sampled_from(
    ["june 12", "or the 19th", "make it sunday", "a week later", "not the 12th", "the second one", "sometime in june",
     "back to the first date", "next saturday", "is the 20th open?", "we might do the 26th", "stop", "thanks", "3pm"]
)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.lists(WORDS, max_size=7))
def test_whatever_the_order_of_words_a_date_is_a_day_or_options_never_both(texts: list[str]) -> None:
    day = sheet(*texts).facts.get("event_date")
    if day is not None:
        assert ("value" in day) == (day["status"] in ("stated", "inferred"))
        assert ("value" in day) != ("options" in day or "span" in day)
        assert all(texts[message][start:end] for message, start, end in day.get("from", []))


@settings(max_examples=80, deadline=None)
@given(st.lists(WORDS, max_size=5))
def test_a_thank_you_changes_no_fact(texts: list[str]) -> None:
    assert sheet(*texts, "thank you so much!").facts == sheet(*texts).facts


def test_a_number_alone_counts_the_piece_that_comes_in_numbers() -> None:
    assert sheet("centerpieces", "12").facts["pieces"][0]["count"] == 12
    assert sheet("centerpieces", "12", "15 actually").facts["pieces"][0]["count"] == 15


def test_a_number_alone_says_nothing_of_a_garland() -> None:
    assert "length_ft" not in sheet("need a garland", "12").facts["pieces"][0]


def test_words_of_change_let_an_inferred_setting_replace_a_stated_one() -> None:
    assert sheet("the party is inside", "actually in our backyard").facts["setting"]["value"] == "outdoor"
