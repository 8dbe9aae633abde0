"""Her yes: to exactly one text, once, and never past an opt-out."""

import threading

import pytest
from flow_studio import COMPLETE, Studio
from sqlalchemy import select

from assistant.flow import AlreadyDecided, NothingToSend, TextChanged
from assistant.flow.errors import DecisionRefused
from assistant.store.models import Outgoing
from assistant.store.parcels import fingerprint


def test_what_is_sent_is_what_she_saw_byte_for_byte(studio: Studio) -> None:
    draft = studio.draft(studio.text(COMPLETE))
    assert draft is not None
    studio.say_yes(draft)
    (row,) = studio.sent()
    assert (row.text, row.fingerprint) == (draft.text, fingerprint(draft.subject, draft.text))
    assert row.approved_by == 1
    assert studio.inquiry(draft.inquiry_id).state == "quoted"


def test_her_edit_is_sent_as_she_wrote_it(studio: Studio) -> None:
    draft = studio.draft(studio.text(COMPLETE))
    assert draft is not None
    studio.say_yes(draft, "My own words,\r\nfor $480.")
    (row,) = studio.sent()
    assert row.text == "My own words,\nfor $480."


def test_the_second_designer_learns_who_was_first(studio: Studio) -> None:
    draft = studio.draft(studio.text(COMPLETE))
    assert draft is not None
    studio.say_yes(draft, designer_id=2)
    with pytest.raises(AlreadyDecided, match="Bea was first"):
        studio.say_yes(draft, designer_id=1)
    assert len(studio.sent()) == 1


def test_of_two_yeses_at_once_one_sends(studio: Studio) -> None:
    for round_number in range(10):
        draft = studio.draft(studio.text(COMPLETE, sender=f"+1202555{round_number + 120:04d}"))
        assert draft is not None
        barrier, lost = threading.Barrier(2), []

        def decide(designer: int, draft=draft, barrier=barrier, lost=lost) -> None:  # type: ignore[no-untyped-def]
            barrier.wait()
            try:
                studio.say_yes(draft, designer_id=designer)
            except AlreadyDecided:
                lost.append(designer)

        threads = [threading.Thread(target=decide, args=(designer,)) for designer in (1, 2)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert len(lost) == 1
        assert len(studio.sent()) == round_number + 1


def test_a_yes_to_an_older_draft_sends_nothing(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE)
    old = studio.draft(inquiry)
    assert old is not None
    studio.text("actually make it 16 ft")
    with pytest.raises((TextChanged, AlreadyDecided)):
        studio.say_yes(old)
    assert studio.sent() == []


def test_a_text_changed_under_the_same_draft_is_refused(studio: Studio) -> None:
    draft = studio.draft(studio.text(COMPLETE))
    assert draft is not None
    with pytest.raises(TextChanged):
        studio.flow.approve(draft.id, fingerprint="0" * 64, text=draft.text, subject=draft.subject, designer_id=1)
    assert studio.sent() == []


@pytest.mark.parametrize("text", ["", "   \n ", "x" * 1601])
def test_nothing_empty_or_endless_is_sent(studio: Studio, text: str) -> None:
    draft = studio.draft(studio.text(COMPLETE))
    assert draft is not None
    with pytest.raises(NothingToSend):
        studio.say_yes(draft, text)
    still = studio.draft(draft.inquiry_id)
    assert still is not None
    assert still.state == "waiting"


def test_a_corrected_fact_reprices_and_sends_nothing(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE)
    before = studio.inquiry(inquiry).quote
    studio.flow.edit_facts(inquiry, {"pieces": [{"kind": "garland", "count": 1, "length_ft": [20, 20]}]}, 1)
    after = studio.inquiry(inquiry).quote
    assert before is not None
    assert after is not None
    assert after["likely"] > before["likely"]
    assert studio.sent() == []
    draft = studio.draft(inquiry)
    assert draft is not None
    assert "20 ft" in draft.text


def test_a_correction_stays_until_the_client_says_otherwise(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE)
    studio.flow.edit_facts(inquiry, {"setting": {"status": "stated", "value": "outdoor"}}, 1)
    studio.text("the colours can be all sage")
    assert studio.inquiry(inquiry).facts["setting"]["value"] == "outdoor"
    studio.text("we moved it inside now")
    assert studio.inquiry(inquiry).facts["setting"]["value"] == "indoor"


def test_after_an_opt_out_there_is_one_confirmation_and_then_nothing(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE)
    draft = studio.draft(inquiry)
    studio.text("STOP")
    (row,) = studio.sent()
    assert row.purpose == "opt_out"
    studio.text("how much for an arch?")
    assert len(studio.sent()) == 1
    with pytest.raises(NothingToSend, match="no more messages"):
        studio.flow.write(inquiry, text="Hello again", subject=None, designer_id=1)
    assert draft is not None
    with pytest.raises(AlreadyDecided):
        studio.say_yes(draft)
    assert len(studio.sent()) == 1


def test_start_opens_the_conversation_again(studio: Studio) -> None:
    studio.text(COMPLETE)
    studio.text("STOP")
    studio.text("START")
    studio.text("how much for an arch?")
    assert len(studio.sent()) >= 3


def test_a_kept_draft_can_be_sent_later(studio: Studio) -> None:
    draft = studio.draft(studio.text(COMPLETE))
    assert draft is not None
    studio.flow.keep(draft.id, designer_id=1)
    studio.say_yes(draft)
    assert len(studio.sent()) == 1


def test_answering_herself_drops_the_draft(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE)
    studio.flow.answer_myself(inquiry, designer_id=1)
    assert studio.draft(inquiry) is None
    assert studio.sent() == []


def test_closing_ends_what_was_open(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE)
    studio.flow.close(inquiry, reason="too far away", designer_id=1)
    assert studio.draft(inquiry) is None
    assert studio.inquiry(inquiry).state == "closed"
    assert studio.text("so, what about next year?") != inquiry


def test_questions_she_lets_go_are_not_asked_again_at_once(studio: Studio) -> None:
    inquiry = studio.text("need a garland on may 15. are you insured?")
    studio.text("its at Linden Hall in Springfield 62704")
    draft = studio.draft(inquiry)
    assert draft is not None
    assert draft.purpose == "ask"
    studio.say_yes(draft)
    assert studio.inquiry(inquiry).rounds == 1
    studio.text("2pm, inside")
    (*_, last) = studio.sent()
    assert last.text != draft.text


def test_words_behind_every_fact_are_kept(studio: Studio) -> None:
    inquiry = studio.inquiry(studio.text(COMPLETE + " Budget $500 max"))
    for name, fact in {"colours": "sage", "budget": "$500"}.items():
        cuts = [COMPLETE[start:end] for _, start, end in inquiry.sources[name] if end <= len(COMPLETE)]
        whole = [(COMPLETE + " Budget $500 max")[start:end] for _, start, end in inquiry.sources[name]]
        assert any(fact in cut for cut in (*cuts, *whole)), name


def test_a_nul_typed_at_the_desk_cannot_break_the_store(studio: Studio) -> None:
    draft = studio.draft(studio.text(COMPLETE))
    assert draft is not None
    studio.say_yes(draft, "for\0 $480")
    assert "\0" not in studio.sent()[0].text


def test_her_word_settles_a_message_of_unsure_delivery_once(studio: Studio) -> None:
    inquiry = studio.text("need a garland on may 15")
    with studio.store.write() as session:
        row = session.scalars(select(Outgoing)).one()
        row.state, row.held_at = "unsure", studio.time
        held = row.id
    studio.flow.settle(inquiry, held, arrived=True, designer_id=1)
    assert [row.state for row in studio.sent()] == ["sent"]
    with pytest.raises(DecisionRefused, match="settled this message already"):
        studio.flow.settle(inquiry, held, arrived=False, designer_id=1)
    with pytest.raises(DecisionRefused, match="does not belong"):
        studio.flow.settle(inquiry, 999, arrived=True, designer_id=1)
