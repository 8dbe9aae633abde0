"""Replies: the right words for each step, language and channel; prices and promises are always found."""

from collections.abc import Mapping
from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.inquiry.situation import Situation
from assistant.inquiry.step import Step, next_step
from assistant.loading.inquiry import load_conversation
from assistant.loading.wording import load_wording
from assistant.rulebook import Rulebook
from assistant.wording import Figures, NoTemplate, Reply

BOOK = Rulebook()
WORDING, RULES = load_wording(BOOK), load_conversation(BOOK)
TODAY = date(2027, 3, 1)
QUOTE: dict[str, Any] = {
    "currency": "USD",
    "low": 45000,
    "likely": 47500,
    "high": 50000,
    "deposit": 23750,
    "single_figure": False,
    "narrowing": [],
    "assumed": [],
    "tax": None,
    "cautions": ["Choking hazard for children under 8.", "Contains natural latex."],
}
OPEN = {"verdict": "open", "why": "free", "crew_hours_free": 9.0, "alternates": []}
FACTS: dict[str, Any] = {
    "event_date": {"status": "stated", "value": "2027-06-12"},
    "event_time": {"status": "stated", "value": "15:00"},
    "pieces": [{"kind": "garland", "length_ft": [8, 10]}, {"kind": "column", "count": 2, "height_ft": [6.5, 6.5]}],
    "colours": ["blush", "gold", "white"],
    "setting": {"status": "stated", "value": "outdoor"},
    "place": {"status": "stated", "value": "Hollis Park"},
    "name": "Dana",
}


def say(
    facts: Mapping[str, Any],
    *,
    language: str = "en",
    channel: str = "sms",
    quote: Mapping[str, Any] | None = None,
    verdict: Mapping[str, Any] | None = None,
    introduced: bool = False,
    kind: str = "inquiry",
    text: str = "hi",
    link: str = "",
    **more: Any,
) -> Reply:
    situation = Situation(
        kind, facts, TODAY, (text,), language=language, channel=channel, quote=quote, verdict=verdict, **more
    )
    figures = Figures(facts, TODAY, quote=quote, verdict=verdict, introduced=introduced, link=link)
    return WORDING.reply(next_step(situation, RULES), figures, language=language, channel=channel)


def test_the_first_text_says_once_that_it_is_an_assistant_and_a_person_reads_every_quote() -> None:
    first, later = say({"name": "Dana"}), say({"name": "Dana"}, introduced=True)
    assert first.text.startswith("Hi Dana! I'm the studio's assistant; the designer reads every quote.")
    assert "assistant" not in later.text
    assert "Dana" not in later.text
    assert "Which date is the event?" in later.text


def test_questions_may_go_alone_and_bear_no_price_and_no_promise() -> None:
    for language in ("en", "es"):
        found = say({}, language=language)
        assert (found.bears_price, found.promises_date, found.may_go_alone) == (False, False, True)


def test_a_first_question_fits_two_parts_of_the_small_alphabet() -> None:
    for language in ("en", "es"):
        found = say({"name": "Dana", "event_date": {"status": "inferred", "value": "2027-06-12"}}, language=language)
        assert found.encoding == "GSM-7"
        assert found.units <= 300


def test_an_inferred_day_is_read_back_in_passing() -> None:
    found = say({"event_date": {"status": "inferred", "value": "2027-06-12"}})
    assert "I understood Saturday, June 12 - tell me if that is wrong." in found.text
    assert found.may_go_alone


def test_two_readings_of_a_day_are_offered_as_a_choice() -> None:
    facts = {"event_date": {"status": "unclear", "options": ["2027-06-07", "2027-07-06"]}}
    assert "which day do you mean: Mon Jun 7 or Tue Jul 6?" in say(facts).text
    assert "lun 7 jun o mar 6 jul?" in say(facts, language="es").text


def test_an_impossible_day_without_a_near_one_is_asked_without_a_choice() -> None:
    facts = {"event_date": {"status": "impossible", "options": [], "why": "no such day"}}
    assert "which day do you mean?" in say(facts).text


def test_a_month_is_named_by_its_two_ends() -> None:
    facts = {**FACTS, "event_date": {"status": "unclear", "span": ["2027-10-01", "2027-10-31"]}}
    assert "Fri Oct 1 - Sun Oct 31?" in say(facts).text


def test_a_range_by_text_says_what_it_is_for_and_waits_for_a_yes() -> None:
    found = say({**FACTS, "pieces": FACTS["pieces"][:1]}, quote=QUOTE, verdict=OPEN, introduced=True, rounds=3)
    for words in (
        "8-10 ft garland in blush, gold and white",
        "outdoors",
        "Sat Jun 12",
        "$450 - $500",
        "delivery and set-up",
        "Sat Jun 12 looks open, not reserved until the deposit (50%).",
        "Good until Mon Mar 8.",
        "Safety:",
    ):
        assert words in found.text
    assert (found.bears_price, found.promises_date, found.may_go_alone) == (True, True, False)


def test_a_single_figure_names_its_deposit_as_an_amount() -> None:
    found = say(FACTS, quote={**QUOTE, "single_figure": True}, verdict=OPEN, rounds=3)
    assert "$475, with delivery" in found.text
    assert "deposit ($237.50)" in found.text
    whole = say(FACTS, quote={**QUOTE, "single_figure": True, "deposit": 47500}, verdict=OPEN, rounds=3)
    assert "deposit (the full amount)" in whole.text


def test_nothing_is_said_of_the_day_without_the_calendars_word() -> None:
    found = say(FACTS, quote=QUOTE, rounds=3)
    assert "looks open" not in found.text
    assert not found.promises_date


def test_a_mail_has_subject_greeting_cautions_and_signature() -> None:
    found = say(FACTS, quote=QUOTE, verdict=OPEN, channel="email", rounds=3, link="https://studio.example.com/q/abc")
    assert found.subject == "Invented Balloon Studio: your price range for Saturday, June 12"
    assert found.text.startswith("Hi Dana!\n\n")
    assert found.text.endswith("Invented Balloon Studio\n+1 202 555 0101\nhello@example.com")
    for words in (
        "- 8-10 ft garland and 2 columns (6.5 ft) in blush",
        "guests arrive 3:00 PM",
        "- Choking hazard",
        "- a covered spot",
        "good until Mon Mar 8",
        "https://studio.example.com/q/abc",
    ):
        assert words in found.text
    assert found.parts == 1


def test_a_mail_without_assumptions_has_no_heading_for_them() -> None:
    step = Step("draft", "range")
    found = WORDING.reply(step, Figures(FACTS, TODAY, quote=QUOTE), language="en", channel="email")
    assert "granted" not in found.text
    assert "\n\n\n" not in found.text


def test_a_mail_greets_once() -> None:
    found = say({"name": "Dana"}, channel="email")
    assert found.text.count("Dana") == 1


def test_spanish_is_written_in_spanish_with_its_own_order_of_words() -> None:
    found = say(FACTS, quote=QUOTE, verdict=OPEN, language="es", channel="email", rounds=3)
    assert "guirnalda de 8-10 pies y 2 columnas de 6.5 pies" in found.text
    assert "sábado 12 de junio" in found.text
    assert "Peligro de asfixia" in found.text
    assert "Choking" not in found.text


def test_spanish_texts_stay_in_the_small_alphabet() -> None:
    found = say(FACTS, quote=QUOTE, verdict=OPEN, language="es", rounds=3)
    assert found.encoding == "GSM-7"
    assert "sab 12 jun" in found.text


def test_a_full_day_offers_at_most_three_others_and_waits_for_a_yes() -> None:
    full = {"verdict": "full", "why": "x", "alternates": ["2027-06-13", "2027-06-11", "2027-06-14"]}
    found = say(FACTS, verdict=full)
    assert "Sun Jun 13, Fri Jun 11 or Mon Jun 14" in found.text
    assert found.promises_date
    assert not found.may_go_alone
    none = say(FACTS, verdict={**full, "alternates": []})
    assert "Would one of them" not in none.text


def test_a_hand_over_says_who_answers_and_by_when() -> None:
    found = say(FACTS, text="it is for my grandmother's memorial", introduced=True)
    assert found.text == "I am so sorry for your loss. The designer will answer you personally today."
    assert found.may_go_alone


def test_opt_out_gets_one_confirmation_without_any_advertising() -> None:
    found = say({}, kind="opt_out", text="STOP")
    assert (
        found.text
        == "Invented Balloon Studio: you will get no more messages from us. Reply START if you change your mind."
    )
    assert (found.parts, found.may_go_alone) == (1, True)
    with pytest.raises(NoTemplate, match="nothing is to be sent"):
        say({}, kind="inquiry", opted_out=True)


def test_help_names_the_studio_and_how_to_reach_a_person() -> None:
    found = say({}, kind="help", text="HELP")
    assert "+1 202 555 0101" in found.text
    assert "STOP" in found.text


def test_an_acceptance_is_thanked_for_without_booking_anything() -> None:
    found = say(FACTS, kind="accept", state="quoted", introduced=True)
    assert "not reserved before that" in found.text
    assert not found.may_go_alone


def test_a_set_answer_is_given_with_the_next_questions() -> None:
    found = say({}, kind="question", text="do you deliver to 30310", introduced=True)
    assert found.text.startswith("We bring it and set it up")
    assert "Which date is the event?" in found.text


def test_a_language_the_studio_does_not_write_falls_back_to_its_first() -> None:
    assert say({}, language="").text.startswith("Hi!")


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("channel", ["sms", "email", "paste"])
def test_every_step_has_words_in_every_language_and_channel(language: str, channel: str) -> None:
    steps = {
        "accept": "accept",
        "answer": "answer",
        "ask": "ask",
        "closed_day": "draft",
        "decline": "decline",
        "full_day": "draft",
        "hand_over": "hand_over",
        "help": "help",
        "opt_in": "opt_in",
        "opt_out": "opt_out",
        "quote": "draft",
        "range": "draft",
        "too_soon": "draft",
    }
    for template, kind in steps.items():
        step = Step(kind, template)  # type: ignore[arg-type]
        found = WORDING.reply(
            step, Figures(FACTS, TODAY, quote=QUOTE, verdict=OPEN), language=language, channel=channel
        )
        assert found.text
        assert "{" not in found.text
        assert "[" not in found.text


# What a client wrote is a value: never a template, never a way around the yes.


@pytest.mark.parametrize(
    "hostile", ["{price}", "[{low}]", "{0.__class__}", "{{7*7}}", "%(low)s", "${low}", "{caution_lines}"]
)
def test_what_a_client_wrote_is_printed_as_it_is(hostile: str) -> None:
    found = WORDING.reply(
        Step("ask", "ask"), Figures({"name": hostile}, TODAY, quote=QUOTE), language="en", channel="sms"
    )
    assert hostile in found.text
    assert "450" not in found.text


def test_line_breaks_of_a_client_reach_no_subject() -> None:
    facts = {**FACTS, "name": "Dana\r\nBcc: x@example.com", "place": {"status": "stated", "value": "a\nSubject: b"}}
    found = say(facts, quote=QUOTE, verdict=OPEN, channel="email", rounds=3)
    assert "\n" not in found.subject
    assert "\nBcc" not in found.text
    assert "\nSubject" not in found.text


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=60), st.sampled_from(["sms", "email"]), st.sampled_from(["en", "es"]))
def test_any_name_is_worded_and_a_price_in_it_needs_a_yes(name: str, channel: str, language: str) -> None:
    found = WORDING.reply(Step("ask", "ask"), Figures({"name": name}, TODAY), language=language, channel=channel)
    assert found.subject == found.subject.strip()
    assert "\n" not in found.subject
    if any(char in found.text for char in "$€£¥"):
        assert found.bears_price
        assert not found.may_go_alone


def test_two_pieces_and_no_size_are_named_plainly() -> None:
    facts = {
        "pieces": [
            {"kind": "arch"},
            {"kind": "wall", "width_ft": [8, 8], "height_ft": [7, 7]},
            {"kind": "bouquet", "count": 3},
        ]
    }
    found = WORDING.reply(
        Step("draft", "range"), Figures(facts, TODAY, quote=QUOTE, introduced=True), language="en", channel="sms"
    )
    assert found.text.startswith("Arch, 8x7 ft balloon wall and 3 bouquets: $450 - $500")


def test_money_is_written_as_the_locale_does() -> None:
    dear = {**QUOTE, "low": 123450, "high": 200000}
    assert "$1,234.50 - $2,000" in say(FACTS, quote=dear, rounds=3).text
    yen = {**QUOTE, "currency": "JPY", "low": 45000, "high": 50000}
    assert "45,000 - " in say(FACTS, quote=yen, rounds=3).text


def test_a_greeting_uses_the_first_name_and_keeps_a_title() -> None:
    assert WORDING.reply(
        Step("ask", "ask"), Figures({"name": "Priya Marlowe"}, TODAY), language="en", channel="sms"
    ).text.startswith("Hi Priya!")
    assert WORDING.reply(
        Step("ask", "ask"), Figures({"name": "Dr. Marlowe"}, TODAY), language="en", channel="sms"
    ).text.startswith("Hi Dr. Marlowe!")


def test_what_all_cautions_end_with_is_said_once() -> None:
    quote = {**QUOTE, "cautions": ["One thing. We follow the venue.", "Another. We follow the venue."]}
    text = WORDING.reply(Step("draft", "quote"), Figures({}, TODAY, quote=quote), language="en", channel="email").text
    assert text.count("We follow the venue.") == 1
    assert "- One thing.\n- Another.\nWe follow the venue." in text
