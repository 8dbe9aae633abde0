"""Booking: only with a deposit, only a quote that was sent, only a day that still has room; else nothing changes."""

from datetime import date, timedelta
from typing import Any

import pytest
from booking_cast import DAY, PAID, book, fill, live, quoted
from flow_studio import COMPLETE, Studio
from sqlalchemy import select

from assistant.flow import DayGone
from assistant.flow.errors import DecisionRefused
from assistant.store.models import AuditLine


def test_a_deposit_makes_the_hold_a_job_with_the_planned_hours(studio: Studio) -> None:
    inquiry = quoted(studio)
    quote = studio.inquiry(inquiry).quote
    assert quote is not None
    ident = book(studio, inquiry)
    (job,) = live(studio, "job")
    assert live(studio, "hold") == []
    assert (job.id, job.inquiry_id, job.day) == (ident, inquiry, DAY)
    assert (job.deposit_cents, job.paid_on) == (20000, PAID)
    # common practice, no source: the calendar is planned at the value four of five jobs keep within, mean x 1.2
    assert job.build_minutes == pytest.approx(quote["hours"]["build"] * 60 * 1.2, abs=2)
    assert studio.inquiry(inquiry).state == "booked"
    with studio.store.read() as session:
        (line,) = session.scalars(select(AuditLine).where(AuditLine.what == "booked"))
    assert (line.who, line.detail["deposit_cents"], line.detail["paid_on"]) == ("designer 1", 20000, "2027-03-01")


def test_a_booked_job_fills_its_day_for_others(studio: Studio) -> None:
    fill(studio, minutes=300)
    book(studio, quoted(studio))
    other = studio.text(COMPLETE, sender="+12025550122")
    assert studio.inquiry(other).verdict["verdict"] == "full"  # type: ignore[index]


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"cents": 0}, "needs its deposit"),
        ({"cents": -5}, "needs its deposit"),
        ({"cents": 99_999_999}, "more than the whole price"),
        ({"paid_on": date(2027, 3, 2)}, "a day to come"),
    ],
)
def test_without_a_true_deposit_nothing_is_booked(studio: Studio, change: dict[str, Any], words: str) -> None:
    inquiry = quoted(studio)
    with pytest.raises(DecisionRefused, match=words):
        book(studio, inquiry, **change)
    assert live(studio, "job") == []
    assert len(live(studio, "hold")) == 1
    assert studio.inquiry(inquiry).state == "quoted"


def test_a_quote_that_nobody_sent_is_not_booked(studio: Studio) -> None:
    inquiry = studio.text(COMPLETE)
    with pytest.raises(DecisionRefused, match="no quote was sent"):
        book(studio, inquiry)


def test_a_replaced_quote_is_not_booked(studio: Studio) -> None:
    inquiry = quoted(studio)
    studio.text("actually make it 12 ft")
    with pytest.raises(DecisionRefused, match="changed since it was sent"):
        book(studio, inquiry)


def test_a_quote_past_its_days_is_not_booked(studio: Studio) -> None:
    inquiry = quoted(studio)
    studio.time += timedelta(days=20)
    with pytest.raises(DecisionRefused, match="valid until"):
        book(studio, inquiry, paid_on=PAID + timedelta(days=20))


def test_a_job_is_booked_once(studio: Studio) -> None:
    inquiry = quoted(studio)
    book(studio, inquiry)
    with pytest.raises(DecisionRefused, match="booked already"):
        book(studio, inquiry)
    assert len(live(studio, "job")) == 1


def test_a_closed_inquiry_is_not_booked(studio: Studio) -> None:
    inquiry = quoted(studio)
    studio.flow.close(inquiry, reason="too far away", designer_id=1)
    with pytest.raises(DecisionRefused, match="closed"):
        book(studio, inquiry)


def test_a_deposit_after_the_hold_ran_out_is_taken_while_the_day_has_room(studio: Studio) -> None:
    inquiry = quoted(studio)
    studio.time += timedelta(hours=49)
    book(studio, inquiry)
    assert studio.inquiry(inquiry).state == "booked"
    assert [task.kind for task in studio.tasks()] == []


def test_a_deposit_after_the_hold_ran_out_is_refused_when_the_day_was_given_away(studio: Studio) -> None:
    fill(studio, minutes=300)
    late = quoted(studio)
    studio.time += timedelta(hours=49)
    book(studio, quoted(studio, sender="+12025550122"), paid_on=PAID + timedelta(days=2))
    with pytest.raises(DayGone, match="return the deposit") as gone:
        book(studio, late)
    assert [option["kind"] for option in gone.value.verdict["options"]][-1:] != []
    assert studio.inquiry(late).state != "booked"
    assert len([job for job in live(studio, "job") if job.inquiry_id]) == 1


def test_the_page_of_dates_can_still_close_the_day_for_a_booking(studio: Studio) -> None:
    inquiry = quoted(studio)
    fill(studio)
    with pytest.raises(DayGone):
        book(studio, inquiry)
