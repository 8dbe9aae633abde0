"""What follows from a message: it is kept once, and answered, drafted or handed over by rule."""

from dataclasses import replace
from datetime import datetime

from flow_studio import COMPLETE, ZONE, Studio, shipped_rooms
from sqlalchemy import func, select

from assistant.store.models import Booking, Message


def test_open_questions_go_out_at_once_without_a_price(studio: Studio) -> None:
    inquiry = studio.text("how much for a garland on may 15? pink n gold, its in a park")
    (row,) = studio.sent()
    assert "?" in row.text
    assert "$" not in row.text
    assert not row.needs_yes
    assert studio.inquiry(inquiry).state == "asking"


def test_a_complete_inquiry_becomes_a_draft_and_nothing_leaves(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE)
    draft = studio.draft(inquiry)
    assert draft is not None
    assert "$" in draft.text
    assert studio.sent() == []
    assert studio.inquiry(inquiry).state == "drafted"


def test_answers_complete_the_facts_over_several_texts(studio: Studio) -> None:
    inquiry = studio.text("how much for a garland on may 15? sage and white")
    assert studio.text("12 ft") == inquiry
    rest = "Linden Hall in Springfield 62704, indoors, 2pm, regular fullness, we keep the balloons"
    assert studio.text(rest) == inquiry
    assert studio.draft(inquiry) is not None
    assert studio.inquiry(inquiry).facts["pieces"][0]["length_ft"] == [12, 12]


def test_the_same_message_twice_is_one_message_and_one_reaction(studio: Studio) -> None:
    first = studio.text("how much for a garland?", provider_id="SMsame")
    second = studio.text("how much for a garland?", provider_id="SMsame")
    assert first == second
    assert len(studio.sent()) == 1
    with studio.store.read() as session:
        assert session.scalar(select(func.count()).select_from(Message)) == 1


def test_a_machines_mail_is_kept_and_never_answered(studio: Studio) -> None:
    studio.text(COMPLETE, channel="email", sender="dana@example.com", subject="Garland")
    studio.text("I am away. For a garland call the shop.", channel="email", sender="dana@example.com", automatic=True)
    assert studio.sent() == []
    with studio.store.read() as session:
        assert session.scalar(select(func.count()).select_from(Message)) == 2


def test_an_advertisement_gets_no_answer_and_needs_no_one(studio: Studio) -> None:
    inquiry = studio.text("We can get your shop to page 1 of search results!! reply for a free audit")
    assert studio.sent() == []
    assert studio.inquiry(inquiry).state == "closed"


def test_a_memorial_goes_to_the_designer_with_a_word_to_the_client(studio: Studio) -> None:
    studio.text("my father passed away, we would like white balloons for the memorial on march 20 in Springfield")
    assert [task.kind for task in studio.tasks()] == ["hand_over"]
    assert all("$" not in row.text for row in studio.sent())


def test_while_she_has_it_in_hand_nothing_is_asked_behind_her_back(studio: Studio) -> None:
    inquiry = studio.text("need a garland on may 15. are you insured?")
    before = len(studio.sent())
    studio.text("its at Linden Hall in Springfield 62704")
    assert len(studio.sent()) == before
    draft = studio.draft(inquiry)
    assert draft is not None
    assert draft.purpose == "ask"


def test_a_full_day_is_told_by_a_draft_with_other_days(studio: Studio) -> None:
    for start, end in ((9, 14), (14, 20)):
        add_booking(studio, datetime(2027, 5, 22, start, tzinfo=ZONE), datetime(2027, 5, 22, end, tzinfo=ZONE))
    inquiry = studio.text(COMPLETE)
    verdict = studio.inquiry(inquiry).verdict
    draft = studio.draft(inquiry)
    assert verdict is not None
    assert verdict["verdict"] == "full"
    assert verdict["alternates"]
    assert draft is not None
    assert draft.purpose == "day_reply"
    assert studio.sent() == []


def test_a_question_at_night_waits_for_the_morning(studio: Studio) -> None:
    studio.time = datetime(2027, 3, 1, 23, 30, tzinfo=ZONE)
    studio.text("how much for a garland?")
    (row,) = studio.sent()
    assert row.due_at == datetime(2027, 3, 2, 8, 0, tzinfo=ZONE)


def test_a_spanish_text_is_answered_in_spanish(studio: Studio) -> None:
    studio.text("Hola! cuanto cuesta una guirnalda de 14 pies para el sabado 5 de junio?")
    (row,) = studio.sent()
    assert "¿" in row.text


def test_a_message_that_cannot_be_read_is_kept_for_the_designer(studio: Studio) -> None:
    class Broken:
        vocabulary = None

        def read(self, *_words: object, **_more: object) -> None:
            raise KeyError("a fault in reading")

    studio.flow.rooms = replace(shipped_rooms(), reader=Broken())  # type: ignore[arg-type]
    inquiry = studio.text(COMPLETE)
    assert [task.kind for task in studio.tasks()] == ["unread"]
    with studio.store.read() as session:
        message = session.scalars(select(Message).where(Message.inquiry_id == inquiry)).one()
        assert message.text == COMPLETE


def test_mail_replies_stay_in_the_clients_thread(studio: Studio) -> None:
    inquiry = studio.text(
        COMPLETE, channel="email", sender="dana@example.com", subject="Garland", provider_id="<one@example.com>"
    )
    draft = studio.draft(inquiry)
    assert draft is not None
    assert draft.subject == "Re: Garland"
    studio.say_yes(draft)
    (row,) = studio.sent()
    assert row.headers["In-Reply-To"] == "<one@example.com>"
    again = studio.text(
        "one more thing, make it 12 ft",
        channel="email",
        sender="dana@example.com",
        subject="Re: Garland",
        thread_ids=("<one@example.com>",),
    )
    assert again == inquiry


def add_booking(studio: Studio, start: datetime, end: datetime) -> None:
    with studio.store.write() as session:
        session.add(
            Booking(
                studio_id=1,
                kind="job",
                title="Invented job",
                day=start.date(),
                start_at=start,
                end_at=end,
                zone=str(ZONE),
                created_at=studio.time,
            )
        )


def test_a_big_job_is_handed_over_with_a_quote_written_for_her(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE.replace("10 ft organic garland", "8x8 balloon wall and a 20 ft garland"))
    assert [task.kind for task in studio.tasks()] == ["hand_over"]
    draft = studio.draft(inquiry)
    assert draft is not None
    assert draft.purpose == "draft"
    assert "$" in draft.text
    assert all("$" not in row.text for row in studio.sent())
    studio.say_yes(draft)
    assert studio.tasks() == []
