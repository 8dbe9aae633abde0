"""The next step of a conversation: what is asked, drafted, handed over, confirmed, or left in silence."""

from datetime import date
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.inquiry.known import is_known
from assistant.inquiry.situation import Situation
from assistant.inquiry.step import Step, next_step
from assistant.loading.inquiry import load_conversation
from assistant.rulebook import Rulebook

RULES = load_conversation(Rulebook())
LIMITS = RULES.asking.limits
QUESTIONS = {question.id: question for question in RULES.asking.questions}
TODAY = date(2027, 3, 1)
DATE = {"status": "stated", "value": "2027-06-12"}
NEEDED: dict[str, Any] = {
    "event_date": DATE,
    "pieces": [{"kind": "garland", "length_ft": [10, 10]}],
    "place": {"status": "stated", "value": "Hollis Park"},
    "setting": {"status": "stated", "value": "indoor"},
}
ALL: dict[str, Any] = {**NEEDED, "event_time": {"status": "stated", "value": "15:00"}, "colours": ["blush"]}
QUOTE: dict[str, Any] = {"low": 45000, "likely": 47500, "high": 50000, "narrowing": [], "assumed": []}
WIDE: dict[str, Any] = {
    **QUOTE,
    "low": 40000,
    "high": 65000,
    "narrowing": [
        {"fact": "density", "width_now": 25000, "width_if_known": 12000},
        {"fact": "strike", "width_now": 25000, "width_if_known": 5000},
    ],
}


def step(text: str = "hi", **more: Any) -> Step:
    facts = more.pop("facts", {})
    kind = more.pop("kind", "inquiry")
    return next_step(Situation(kind, facts, TODAY, texts=more.pop("texts", (text,)), **more), RULES)


def asked(found: Step) -> list[str]:
    return [question.id for question in found.questions]


# Asking


def test_the_first_text_asks_for_the_day_and_the_piece() -> None:
    found = step("how much for a birthday?")
    assert (found.kind, asked(found)) == ("ask", ["event_date", "pieces"])
    assert all(question.why and question.words["en"] and question.words["es"] for question in found.questions)


def test_a_question_asked_again_has_other_words() -> None:
    first = step(facts={"event_date": DATE})
    again = step(facts={"event_date": DATE}, asked={"pieces": 1}, rounds=1, last_asked=("pieces",))
    assert asked(first)[0] == asked(again)[0] == "pieces"
    assert first.questions[0].words != again.questions[0].words


def test_with_all_that_a_range_needs_a_draft_is_made() -> None:
    found = step(facts=ALL, quote=QUOTE)
    assert (found.kind, found.template) == ("draft", "range")
    assert step(facts=ALL, quote={**QUOTE, "low": 47500, "high": 47500}).template == "quote"


def test_what_was_left_open_is_printed_as_an_assumption_in_both_languages() -> None:
    left = {assumption.id: assumption.words for assumption in step(facts=NEEDED, quote=QUOTE).assumptions}
    assert {"colours", "strike", "density"} <= set(left)
    assert set(left["strike"]) == {"en", "es"}


def test_an_assumption_the_price_was_not_made_with_is_not_printed() -> None:
    assumed = [{"fact": "strike", "value": True, "why": "base and pole come back"}]
    found = step(facts=NEEDED, quote={**QUOTE, "assumed": assumed})
    assert "strike" not in {assumption.id for assumption in found.assumptions}


def test_a_wide_range_earns_one_more_question_the_one_worth_most() -> None:
    found = step(facts=ALL, quote=WIDE, rounds=1)
    assert found.kind == "ask"
    assert asked(found)[0] == "strike"
    assert step(facts=ALL, quote=WIDE, rounds=3).kind == "draft"
    answered = step(
        "keep them",
        facts=ALL,
        quote=WIDE,
        rounds=1,
        asked={"strike": 1, "density": 1},
        last_asked=("strike", "density"),
    )
    assert answered.kind == "draft"


def test_not_sure_becomes_an_assumption_and_is_not_asked_again() -> None:
    facts = {**ALL, "pieces": [{"kind": "garland"}]}
    found = step("not sure tbh", facts=facts, asked={"size": 1}, last_asked=("size",), rounds=1, quote=QUOTE)
    assert found.kind == "draft"
    assert "size" in {assumption.id for assumption in found.assumptions}
    assert found.left_open == ("size",)
    later = step("pink please", facts=facts, asked={"size": 1}, left_open=found.left_open, rounds=2, quote=QUOTE)
    assert later.kind == "draft"


def test_not_sure_about_the_day_is_asked_once_more_then_it_is_the_designers() -> None:
    facts = {key: value for key, value in ALL.items() if key != "event_date"}
    again = step("not sure yet", facts=facts, asked={"event_date": 1}, last_asked=("event_date",), rounds=1)
    assert asked(again)[0] == "event_date"
    gone = step("dunno", facts=facts, asked={"event_date": 2}, last_asked=("event_date",), rounds=2)
    assert (gone.kind, gone.hand_over and gone.hand_over.id) == ("hand_over", "misread")


def test_after_three_rounds_the_designer_takes_over() -> None:
    found = step(facts={"event_date": DATE}, rounds=3, asked={"pieces": 1, "place": 1})
    assert (found.kind, found.hand_over and found.hand_over.id) == ("hand_over", "three_rounds")


def test_an_inferred_day_is_read_back_once() -> None:
    facts = {"event_date": {**DATE, "status": "inferred"}}
    assert step(facts=facts).confirm == ("event_date",)
    assert step(facts=facts, rounds=1, last_asked=("pieces",)).confirm == ()
    assert step(facts={"event_date": DATE}).confirm == ()


def test_plan_b_is_asked_outdoors_only() -> None:
    outdoors = {**ALL, "setting": {"status": "stated", "value": "outdoor"}}
    assert "plan_b" in {a.id for a in step(facts=outdoors, quote=QUOTE).assumptions}
    assert "plan_b" not in {a.id for a in step(facts=ALL, quote=QUOTE).assumptions}


def test_an_answer_that_no_rule_reads_is_asked_once_and_shown_to_the_designer() -> None:
    outdoors = {**NEEDED, "setting": {"status": "stated", "value": "outdoor"}}
    found = step(
        "yes there is a tent", facts=outdoors, quote=QUOTE, asked={"plan_b": 1}, last_asked=("plan_b",), rounds=1
    )
    assert found.kind == "draft"
    assert "plan_b" not in {assumption.id for assumption in found.assumptions}
    assert "asked about plan_b: the answer stands in the conversation" in found.reasons
    unsure = step("not sure", facts=outdoors, quote=QUOTE, asked={"plan_b": 1}, last_asked=("plan_b",), rounds=1)
    assert "plan_b" in {assumption.id for assumption in unsure.assumptions}


def test_a_question_remembered_from_older_rules_harms_nothing() -> None:
    assert (
        step(facts=ALL, quote=WIDE, rounds=1, asked={"gone": 1}, last_asked=("gone",), left_open=("gone",)).kind
        == "draft"
    )


# The day


@pytest.mark.parametrize(
    ("word", "template"), [("full", "full_day"), ("closed", "closed_day"), ("too_soon", "too_soon")]
)
def test_a_day_that_cannot_be_done_is_told_first_and_waits_for_the_designer(word: str, template: str) -> None:
    found = step(facts={"event_date": DATE}, verdict={"verdict": word, "why": "two jobs already", "alternates": []})
    assert (found.kind, found.template, found.reasons) == ("draft", template, ("two jobs already",))


def test_a_past_day_is_asked_again() -> None:
    facts = {"event_date": {"status": "stated", "value": "2027-02-12"}}
    assert asked(step(facts=facts, verdict={"verdict": "past", "why": "past"})) == ["confirm_date"]


def test_a_tight_day_is_told_to_the_designer() -> None:
    assert "little left" in step(facts=ALL, quote=QUOTE, verdict={"verdict": "tight", "why": "little left"}).reasons


# The designer


@pytest.mark.parametrize(
    ("text", "rule"),
    [
        ("balloons for my dad's memorial on june 12", "bereaved"),
        ("This is unacceptable, still waiting since Monday", "upset"),
        ("can I speak to someone please", "person"),
        ("can we cancel the arch for Saturday?", "cancel_job"),
        ("Is it tax-exempt?", "legal"),
        ("do I get a refund", "legal"),
        ("do you need insurance or a COI", "legal"),
        ("we want it hung from the ceiling", "rigging"),
        ("garland for the front of the stage", "large_piece"),
        ("with our logo on it", "logo"),
        ("for Maple Elementary, we pay by purchase order", "institution"),
        ("se puede con nuestro logotipo?", "logo"),
        ("necesito factura, ¿cobran IVA?", "legal"),
        ("quiero hablar con una persona", "person"),
    ],
)
def test_what_no_rule_may_decide_goes_to_the_designer(text: str, rule: str) -> None:
    found = step(text, facts={"event_date": DATE})
    assert found.kind == "hand_over"
    assert found.hand_over is not None
    assert found.hand_over.id == rule
    assert found.hand_over.by["en"]
    assert found.hand_over.words["es"]


@pytest.mark.parametrize(
    ("facts", "more", "rule"),
    [
        ({"event_date": {"status": "stated", "value": "2027-03-03"}}, {}, "soon"),
        ({**ALL, "pieces": [{"kind": "wall", "width_ft": [8, 8]}]}, {}, "large_piece"),
        ({**ALL, "pieces": [{"kind": "drop"}]}, {}, "large_piece"),
        ({**ALL, "pieces": [{"kind": "ceiling"}]}, {}, "rigging"),
        ({**ALL, "pieces": [{"kind": kind} for kind in ("garland", "column", "bouquet")]}, {}, "many_pieces"),
        (ALL, {"quote": {**QUOTE, "likely": 150000}}, "big_job"),
        ({**ALL, "occasion": {"status": "stated", "value": "school"}}, {}, "institution"),
        ({"event_date": DATE}, {"files": 1}, "photo_decides"),
        (ALL, {"language": ""}, "unsure_language"),
        (ALL, {"kind": "person"}, "person"),
        (ALL, {"texts": ("can you go cheaper?", "any discount?")}, "haggling"),
    ],
)
def test_a_situation_for_the_designer_is_seen_in_the_facts(
    facts: dict[str, Any], more: dict[str, Any], rule: str
) -> None:
    found = step(facts=facts, **more)
    assert found.hand_over is not None
    assert found.hand_over.id == rule


@pytest.mark.parametrize(
    "text",
    [
        "lime and purple arch, 10 am",
        "how much? any chance of a cheaper one",  # once is no haggling
        "party at 12 Taxonomy Street",
        "my memory is bad, which day did I say",
        "we will be upstairs",
        "we are off on Memorial Day weekend",
        "Thanks, Sue",
        "worst case we move inside",
        "it is in Orange County",
        "she finished nursing school",
        "can I have the stand in gold",
        "I am terrible at measuring",
    ],
)
def test_plain_words_are_not_taken_for_a_reason_to_hand_over(text: str) -> None:
    assert step(text, facts=ALL, quote=QUOTE).kind == "draft"


def test_the_client_is_told_once_that_the_designer_answers() -> None:
    wall = {**ALL, "pieces": [{"kind": "wall", "width_ft": [8, 8]}]}
    assert step(facts=wall).kind == "hand_over"
    assert step(facts=wall, handed_over=("large_piece",)).kind == "silent"
    again = step("this is unacceptable", facts=wall, handed_over=("large_piece",))
    assert (again.kind, again.hand_over and again.hand_over.id) == ("hand_over", "upset")


def test_all_reasons_are_told_to_the_designer() -> None:
    found = step("memorial, is it tax exempt?", facts=ALL)
    assert len(found.reasons) == 2


# Consent, and messages that are no inquiry


def test_who_opted_out_hears_one_confirmation_and_then_nothing() -> None:
    assert step("STOP", kind="opt_out").kind == "opt_out"
    for kind in ("inquiry", "opt_out", "help", "question", "accept", "person", "other"):
        assert step("hello?", kind=kind, facts=ALL, quote=QUOTE, opted_out=True).kind == "silent"
    assert step("START", kind="opt_in", opted_out=True).kind == "opt_in"


def test_an_opt_out_with_a_booking_is_a_call_for_the_designer() -> None:
    assert step("CANCEL", kind="opt_out", state="booked").reasons
    assert not step("STOP", kind="opt_out", state="asking").reasons


@pytest.mark.parametrize("text", ["we sell helium wholesale", "thanks!!", "get your tax refund now"])
def test_a_message_that_is_no_inquiry_gets_no_automatic_answer(text: str) -> None:
    assert step(text, kind="other").kind == "silent"


def test_a_yes_to_a_quote_is_a_task_and_never_a_booking() -> None:
    found = step("yes, book it!", kind="accept", state="quoted", facts=ALL, quote=QUOTE)
    assert found.kind == "accept"
    assert "nothing is booked yet" in found.reasons[0]


def test_a_yes_before_any_quote_is_an_answer_like_any_other() -> None:
    assert step("yes", kind="accept", state="asking", facts={"event_date": DATE}, rounds=1).kind == "ask"


def test_a_no_is_taken_politely() -> None:
    assert step("no thanks", kind="decline", state="quoted", facts=ALL).kind == "decline"


# Questions


def test_a_question_the_studio_has_answered_is_answered_and_the_next_one_put() -> None:
    found = step("do you deliver to 30310", kind="question")
    assert (found.kind, [answer.id for answer in found.answers]) == ("answer", ["deliver"])
    assert asked(found) == ["event_date", "pieces"]


@pytest.mark.parametrize("text", ["how much is the deposit?", "do you juggle?"])
def test_a_question_without_a_set_answer_goes_to_the_designer(text: str) -> None:
    found = step(text, kind="question", state="quoted", facts=ALL)
    assert found.kind == "hand_over"
    assert found.reasons


# Whatever happens

known_facts = st.dictionaries(st.sampled_from(sorted(ALL)), st.just(None), max_size=6).map(
    lambda keys: {key: ALL[key] for key in keys}
)
counts = st.dictionaries(st.sampled_from([q.id for q in RULES.asking.questions]), st.integers(0, 3), max_size=8)
texts = st.lists(st.sampled_from(["hi", "not sure", "cheaper?", "ok", "pink", "10 ft"]), min_size=1, max_size=4)
situations = st.builds(
    Situation,
    st.sampled_from(["inquiry", "question", "accept"]),
    known_facts,
    st.just(TODAY),
    texts=texts.map(tuple),
    state=st.sampled_from(["open", "asking", "quoted", "booked"]),
    asked=counts,
    last_asked=st.lists(st.sampled_from(["size", "place", "event_date", "colours"]), max_size=2).map(tuple),
    rounds=st.integers(0, 4),
    quote=st.sampled_from([None, QUOTE, WIDE]),
    opted_out=st.booleans(),
)


@settings(max_examples=300, deadline=None)
@given(situations)
def test_nothing_known_is_asked_nobody_is_asked_too_much_and_no_price_lacks_what_it_needs(situation: Situation) -> None:
    found = next_step(situation, RULES)
    assert len(found.questions) <= LIMITS.per_text
    for question in found.questions:
        fact = QUESTIONS[question.id].fact
        assert not is_known(situation.facts, fact)
        most = 1 if QUESTIONS[question.id].designer_reads else LIMITS.times_each
        assert situation.asked.get(question.id, 0) < most
    if found.template in ("range", "quote"):
        for fact in ("event_date", "pieces", "place"):
            assert is_known(situation.facts, fact)
    if found.questions:
        assert situation.rounds < LIMITS.rounds
    assert bool(found.questions) or found.kind != "ask"
    if situation.opted_out:
        assert found.kind == "silent"


@settings(max_examples=100, deadline=None)
@given(situations)
def test_a_conversation_ends_in_a_draft_or_with_the_designer(situation: Situation) -> None:
    rounds, asked_so_far = 0, dict.fromkeys(situation.asked, 0)
    for _ in range(10):
        now = Situation(
            "inquiry", situation.facts, TODAY, ("hm",), asked=asked_so_far, rounds=rounds, quote=situation.quote
        )
        found = next_step(now, RULES)
        if found.kind != "ask":
            break
        rounds += 1
        for question in found.questions:
            asked_so_far[question.id] = asked_so_far.get(question.id, 0) + 1
    assert found.kind in ("draft", "hand_over")
    assert rounds <= LIMITS.rounds


def test_a_bare_no_to_a_question_is_no_end_of_the_inquiry() -> None:
    assert step("no", kind="decline", state="asking", facts=NEEDED, last_asked=("access",)).kind != "decline"
    assert step("no thanks, we found someone else", kind="decline", state="asking", facts=NEEDED).kind == "decline"
