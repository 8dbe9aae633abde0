"""Booking: a quoted job with its deposit noted becomes a job in the calendar, if the day still has room for it."""

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import update
from sqlalchemy.orm import Session

from assistant.flow.day import Placed, place
from assistant.flow.drafts import OPEN_STATES
from assistant.flow.errors import DayGone, DecisionRefused
from assistant.flow.holds import claim_row
from assistant.flow.reread import local_day
from assistant.flow.rooms import Rooms
from assistant.store import queries_calendar as ask
from assistant.store.models import AuditLine, Booking, Draft, Inquiry, Task

SETTLED_TASKS = ("accepted", "hold_ended")


@dataclass(frozen=True)
class Deposit:
    """What the client paid, in cents, and on which day of the studio."""

    cents: int
    paid_on: date


def book(
    session: Session, rooms: Rooms, inquiry_id: int, deposit: Deposit, designer_id: int, now: datetime
) -> Booking:
    """Book the job of an inquiry; return its row in the calendar.

    The day is judged again here, where nobody else can write, without the client's own hold: a deposit that comes
    after the hold ran out is taken only if the day still has room. Raises DayGone with other ways, or DecisionRefused;
    then nothing was changed.
    """
    inquiry = session.get_one(Inquiry, inquiry_id, with_for_update=True)
    quote = _sent_quote(session, inquiry)
    today = local_day(rooms, now)
    _check_deposit(deposit, quote, today)
    placed = _placed(session, rooms, inquiry, quote, today)
    ask.end_holds(session, inquiry.client_id, now)
    job = claim_row(session, rooms, inquiry, placed, "job", now)
    job.deposit_cents, job.paid_on = deposit.cents, deposit.paid_on
    session.add(job)
    session.flush()
    _close_the_books(session, inquiry, job, designer_id, now)
    return job


def _sent_quote(session: Session, inquiry: Inquiry) -> Draft:
    """Return the quote that the client holds; a newer one that waits must be sent or dropped first."""
    if inquiry.state in ("done", "closed"):
        raise DecisionRefused(f"this inquiry is {inquiry.state}: a new message of the client opens a new one")
    if ask.live_job(session, inquiry.id):
        raise DecisionRefused("this job is booked already: change it on the page of dates")
    sent = ask.last_priced_draft(session, inquiry.id, ("approved",))
    if sent is None or sent.quote is None:
        raise DecisionRefused("no quote was sent for this inquiry yet: send one, then note the deposit")
    newer = ask.last_priced_draft(session, inquiry.id, OPEN_STATES)
    if newer and newer.version > sent.version:
        raise DecisionRefused("the quote changed since it was sent: send the new one, or drop it, then book")
    return sent


def _check_deposit(deposit: Deposit, sent: Draft, today: date) -> None:
    quote = sent.quote or {}
    if isinstance(deposit.cents, bool) or not isinstance(deposit.cents, int) or deposit.cents <= 0:
        raise DecisionRefused("a booking needs its deposit: give the amount that was paid, above 0")
    if deposit.cents > int(quote["high"]):
        raise DecisionRefused("the deposit is more than the whole price: look at the amount again")
    if deposit.paid_on > today:
        raise DecisionRefused(f"the deposit cannot be paid on {deposit.paid_on}, a day to come: give the real day")
    valid = quote.get("valid_until")
    if valid and deposit.paid_on > date.fromisoformat(valid):
        raise DecisionRefused(f"the quote was valid until {valid}: send it anew, prices may have moved")


def _placed(session: Session, rooms: Rooms, inquiry: Inquiry, sent: Draft, today: date) -> Placed:
    placed = place(session, rooms, inquiry, inquiry.facts, sent.quote, today)
    if placed is None:
        raise DecisionRefused("the day of the event is not settled: set it, send the quote, then book")
    held = ask.last_hold(session, inquiry.id)
    if held and held.day != placed.day:
        raise DecisionRefused(f"the quote was for {held.day}, the facts now say {placed.day}: send the quote anew")
    if not placed.found.possible:
        raise DayGone(placed.verdict(), paid=True)
    return placed


def _close_the_books(session: Session, inquiry: Inquiry, job: Booking, designer_id: int, now: datetime) -> None:
    inquiry.state, inquiry.updated_at = "booked", now
    inquiry.version += 1
    session.execute(
        update(Task)
        .where(Task.inquiry_id == inquiry.id, Task.kind.in_(SETTLED_TASKS), Task.done_at.is_(None))
        .values(done_at=now, done_by=designer_id)
    )
    paid = job.paid_on.isoformat() if job.paid_on else None
    detail = {"booking": job.id, "day": job.day.isoformat(), "deposit_cents": job.deposit_cents, "paid_on": paid}
    session.add(
        AuditLine(
            studio_id=inquiry.studio_id,
            at=now,
            who=f"designer {designer_id}",
            what="booked",
            inquiry_id=inquiry.id,
            detail=detail,
        )
    )
