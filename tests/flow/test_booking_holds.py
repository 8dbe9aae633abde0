"""Holds: made with the yes to a quote, one a client, released when they run out, refused when the day is gone."""

from datetime import datetime, timedelta

import pytest
from booking_cast import DAY, fill, live, quoted
from flow_studio import COMPLETE, ZONE, Studio
from sqlalchemy import select

from assistant.flow import DayGone
from assistant.flow.errors import DecisionRefused
from assistant.store.models import AuditLine


def test_an_approved_quote_holds_its_day_for_the_studios_hours(studio: Studio) -> None:
    inquiry = quoted(studio)
    (hold,) = live(studio, "hold")
    assert (hold.inquiry_id, hold.day) == (inquiry, DAY)
    assert hold.expires_at == studio.time + timedelta(hours=48)
    assert hold.build_on == DAY - timedelta(days=1)
    assert hold.crew_minutes
    assert hold.takes == {"vehicle": 10}


def test_a_day_near_at_hand_is_held_for_24_hours(studio: Studio) -> None:
    quoted(studio, text=COMPLETE.replace("Sat May 22", "Sat Mar 13"))
    (hold,) = live(studio, "hold")
    assert hold.expires_at == studio.time + timedelta(hours=24)


def test_a_client_holds_one_day_at_a_time(studio: Studio) -> None:
    inquiry = quoted(studio)
    studio.text("Sorry, it moved to Sat May 29, same hour and place")
    draft = studio.draft(inquiry)
    assert draft is not None
    studio.say_yes(draft)
    assert [hold.day for hold in live(studio, "hold")] == [DAY + timedelta(days=7)]


def test_a_question_is_no_hold(studio: Studio) -> None:
    studio.text("how much for a garland on may 15? pink n gold, its in a park")
    assert live(studio, "hold") == []


def test_a_yes_to_a_day_that_filled_up_is_refused_and_the_draft_made_anew(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE)
    draft = studio.draft(inquiry)
    assert draft is not None
    fill(studio)
    with pytest.raises(DayGone, match="can no longer be done") as gone:
        studio.say_yes(draft)
    assert isinstance(gone.value, DecisionRefused)
    assert gone.value.verdict["verdict"] == "full"
    assert gone.value.verdict["scarcest"]["resource"] == "event_hours"
    assert studio.sent() == []
    assert live(studio, "hold") == []
    anew = studio.draft(inquiry)
    assert anew is not None
    assert (anew.purpose, anew.state) == ("day_reply", "waiting")
    assert anew.id != draft.id


def test_anothers_hold_counts_until_it_runs_out_to_the_minute(studio: Studio) -> None:
    fill(studio, minutes=300)  # leaves room for one garland, not two
    quoted(studio)
    second = studio.text(COMPLETE, sender="+12025550122")
    assert studio.inquiry(second).verdict["verdict"] == "full"  # type: ignore[index]
    studio.time += timedelta(hours=47, minutes=59)
    studio.text("any news?", sender="+12025550122")
    assert len(live(studio, "hold")) == 1
    studio.time += timedelta(minutes=1)
    studio.text("hello, any news?", sender="+12025550122")
    assert live(studio, "hold") == []
    assert studio.inquiry(second).verdict["verdict"] != "full"  # type: ignore[index]


def test_a_hold_that_ran_out_is_released_once_with_a_note_and_a_task(studio: Studio) -> None:
    inquiry = quoted(studio)
    studio.time += timedelta(hours=48)
    assert [studio.flow.release_holds() for _ in range(3)] == [1, 0, 0]
    (task,) = studio.tasks()
    assert (task.kind, task.inquiry_id) == ("hold_ended", inquiry)
    assert "ran out without a deposit" in task.reason
    with studio.store.read() as session:
        lines = session.scalars(select(AuditLine.what).where(AuditLine.inquiry_id == inquiry)).all()
    assert lines.count("hold made") == lines.count("hold ended") == 1


def test_a_hold_without_an_hour_takes_its_hours_and_blocks_none(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE.replace(" at 1pm", ""))
    studio.flow.edit_facts(inquiry, {"event_time": {"status": "stated", "value": None}}, 1)
    draft = studio.draft(inquiry)
    if draft is None or draft.purpose != "draft":
        pytest.skip("the rules ask for the hour first")
    studio.say_yes(draft)
    (hold,) = live(studio, "hold")
    assert hold.start_at == datetime(2027, 5, 22, tzinfo=ZONE)
    other = studio.text(COMPLETE, sender="+12025550122")
    assert studio.inquiry(other).verdict["verdict"] in ("open", "tight")  # type: ignore[index]
