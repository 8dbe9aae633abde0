"""Opt-out words against 47 CFR 64.1200(a)(10): each ends the texts, with one confirmation and then nothing."""

from datetime import date

import pytest

from assistant.inquiry.situation import Situation
from assistant.inquiry.step import next_step
from assistant.loading.inquiry import load_conversation
from assistant.loading.reading import load_reader
from assistant.loading.wording import load_wording
from assistant.rulebook import Rulebook
from assistant.wording import Figures

BOOK = Rulebook()
READER, RULES, WORDING = load_reader(BOOK), load_conversation(BOOK), load_wording(BOOK)
TODAY = date(2027, 3, 1)

# 47 CFR 64.1200(a)(10), in force since April 2025 (FCC 24-24, 89 FR 15756): these words, sent in reply, always revoke.
WORDS = ["stop", "quit", "end", "revoke", "opt out", "cancel", "unsubscribe"]


@pytest.mark.parametrize("word", WORDS)
@pytest.mark.parametrize("form", ["{}", "{}.", " {} ", "{}!"])
def test_each_word_of_the_regulation_ends_the_texts(word: str, form: str) -> None:
    for text in (form.format(word), form.format(word.upper()), form.format(word.capitalize())):
        kind = READER.read(text, today=TODAY).kind
        first = next_step(Situation(kind, {}, TODAY, (text,)), RULES)
        assert (kind, first.kind) == ("opt_out", "opt_out")
        again = next_step(Situation(kind, {}, TODAY, (text, text), opted_out=True), RULES)
        assert again.kind == "silent"


# 47 CFR 64.1200(a)(12): one confirmation, without marketing
@pytest.mark.parametrize("language", ["en", "es"])
def test_the_confirmation_is_one_text_without_price_offer_or_question(language: str) -> None:
    step = next_step(Situation("opt_out", {}, TODAY, ("STOP",)), RULES)
    found = WORDING.reply(step, Figures({"name": "Dana"}, TODAY), language=language, channel="sms")
    assert found.parts == 1
    assert found.may_go_alone
    assert "?" not in found.text
    assert not found.bears_price


# the regulation's words stand in reply to a text; "cancel" inside a sentence about the event is the designer's matter
@pytest.mark.parametrize(
    "text", ["can we cancel the arch for Saturday?", "please cancel my order", "we have to cancel the party"]
)
def test_cancelling_the_event_is_no_opt_out_and_goes_to_the_designer(text: str) -> None:
    kind = READER.read(text, today=TODAY).kind
    assert kind != "opt_out"
    step = next_step(Situation(kind, {}, TODAY, (text,), state="booked"), RULES)
    assert step.kind == "hand_over"
    assert step.hand_over is not None
    assert step.hand_over.id == "cancel_job"
