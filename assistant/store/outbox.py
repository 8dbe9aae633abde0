"""Claims a message to send and writes down what became of it; the provider is called between two transactions.

A claim is a lease of 60 s with a number. Whoever finishes late is refused by that number, and a lease that ran out
means that nobody knows: the message is looked up at the provider before any repeat.
"""

from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import CursorResult, Select, and_, bindparam, exists, or_, select, text, update
from sqlalchemy.orm import Session, aliased
from sqlalchemy.sql import ColumnElement

from assistant.store.models import AuditLine, Client, Message, Outgoing, Task, UtcTime
from assistant.store.parcels import Parcel, fingerprint, parcel_of

LEASE = timedelta(seconds=60)
# The one message that may still go to a client who opted out (47 CFR 64.1200(a)(12)).
OPT_OUT_PURPOSE = "opt_out"
# Written out, not bound: only so do the databases see that the index of open messages serves it.
_IN_LINE = text("outgoing.state IN ('waiting', 'claimed', 'unsure')")

_NOW = bindparam("now", type_=UtcTime())


class LeaseLost(Exception):
    """Another sender took the message over; what this one found out is not written."""


def claim(session: Session, now: datetime) -> Parcel | None:
    """Take the next message that is due, or None. At most one message of a client is under way, oldest first.

    What a person must have approved is checked here again: the yes, and that it was to exactly this text.
    A client who opted out gets nothing but the confirmation.
    """
    while row := session.scalars(_DUE, {"now": now}).first():
        parcel = _take(session, row, now)
        fault = _fault(row)
        if fault is None:
            return parcel
        failed(session, parcel, fault, now)
        session.flush()
    return None


def stop_opted_out(session: Session, now: datetime) -> None:
    """Take every waiting message of a client who opted out from the line, so that none holds up the confirmation."""
    stopped = session.execute(
        update(Outgoing)
        .where(
            Outgoing.state == "waiting",
            Outgoing.purpose != OPT_OUT_PURPOSE,
            _IN_LINE,
            Outgoing.client_id.in_(select(Client.id).where(Client.stopped_at.is_not(None))),
        )
        .values(state="stopped", error="the client asked for no more messages")
        .returning(Outgoing.id, Outgoing.studio_id, Outgoing.inquiry_id)
        .execution_options(synchronize_session=False)
    )
    for row in stopped.all():
        session.add(_audit(row.studio_id, row.inquiry_id, "stopped", now, outgoing=row.id))


def sent(session: Session, parcel: Parcel, provider_id: str, now: datetime) -> None:
    """Write the provider's accept; the message appears in the conversation."""
    _end(session, parcel, state="sent", provider_id=provider_id, sent_at=now, error=None, held_at=None)
    session.add(_said(parcel, provider_id, now))
    session.add(_audit(parcel.studio_id, parcel.inquiry_id, "sent", now, outgoing=parcel.id, channel=parcel.channel))


def failed(session: Session, parcel: Parcel, why: str, now: datetime, *, opted_out: bool = False) -> None:
    """Give a message up for good and tell the designer; ``opted_out`` when the carrier says so of the client."""
    _end(session, parcel, state="failed", error=why[:500])
    session.add(_task(parcel, "send_failed", f"Your message was not sent: {why}", now))
    session.add(_audit(parcel.studio_id, parcel.inquiry_id, "send_failed", now, outgoing=parcel.id))
    if opted_out:
        session.execute(
            update(Client).where(Client.id == parcel.client_id, Client.stopped_at.is_(None)).values(stopped_at=now)
        )


def needless(session: Session, parcel: Parcel, now: datetime) -> None:
    """End an opt-out's confirmation that the carrier does not let through, since it sent its own."""
    _end(session, parcel, state="stopped", error="the carrier confirmed the stop itself")
    session.add(_audit(parcel.studio_id, parcel.inquiry_id, "stopped", now, outgoing=parcel.id))


def later(session: Session, parcel: Parcel, why: str, due_at: datetime) -> None:
    """Put a message back that the provider certainly did not take."""
    _end(session, parcel, state="waiting", error=why[:500], due_at=due_at)


def unsure(session: Session, parcel: Parcel, why: str, due_at: datetime) -> None:
    """Nobody knows whether the provider took it: look it up at ``due_at``."""
    _end(session, parcel, state="unsure", error=why[:500], due_at=due_at)


def held(session: Session, parcel: Parcel, why: str, now: datetime) -> None:
    """Nobody can find out: a person must say whether it arrived; later messages may pass."""
    _end(session, parcel, state="unsure", error=why[:500], held_at=now)
    session.add(_task(parcel, "send_unsure", f"It is not certain that your message was sent: {why}", now))
    session.add(_audit(parcel.studio_id, parcel.inquiry_id, "send_held", now, outgoing=parcel.id))


def settle(session: Session, outgoing_id: int, *, arrived: bool, now: datetime) -> None:
    """Take a person's word on a held message: it arrived, or it did not and is to be sent again.

    Raises LookupError when the message is not held.
    """
    row = session.get(Outgoing, outgoing_id, with_for_update=True)
    if row is None or row.state != "unsure" or row.held_at is None:
        raise LookupError(f"message {outgoing_id} is not held: look at the inquiry again")
    if arrived:
        row.state, row.sent_at, row.provider_id = "sent", now, row.provider_id or f"by-hand-{row.id}"
        parcel = parcel_of(row, claim=row.claim, look_up=True, attempts=row.attempts, tried_at=row.tried_at or now)
        session.add(_said(parcel, row.provider_id, now))
    else:
        row.state, row.due_at, row.held_at = "waiting", now, None
    what = "said_arrived" if arrived else "said_lost"
    session.add(_audit(row.studio_id, row.inquiry_id, what, now, outgoing=row.id))


def known_ids(session: Session, candidates: list[str]) -> set[str]:
    """Return those provider ids that other messages have already."""
    return set(session.scalars(select(Outgoing.provider_id).where(Outgoing.provider_id.in_(candidates))))


def _due() -> Select[Outgoing]:
    """Select the next claimable message with its client, both locked; rows that others hold are passed over."""
    allowed = or_(Client.stopped_at.is_(None), Outgoing.purpose == OPT_OUT_PURPOSE)
    ready = or_(
        and_(Outgoing.state == "waiting", allowed),
        and_(Outgoing.state == "claimed", Outgoing.claimed_until <= _NOW),
        and_(Outgoing.state == "unsure", Outgoing.held_at.is_(None)),
    )
    return (
        select(Outgoing)
        .join(Client, Client.id == Outgoing.client_id)
        .where(_IN_LINE, Outgoing.due_at <= _NOW, ready, ~_client_waits())
        .order_by(Outgoing.due_at, Outgoing.id)
        .limit(1)
        .with_for_update(skip_locked=True)
        .execution_options(populate_existing=True)
    )


def _client_waits() -> ColumnElement[bool]:
    """An earlier message of the same client is not through yet, or any other is under way."""
    other = aliased(Outgoing)
    open_still = or_(
        other.state.in_(("waiting", "claimed")),
        and_(other.state == "unsure", other.held_at.is_(None)),
    )
    before = and_(other.id < Outgoing.id, open_still)
    under_way = and_(other.id != Outgoing.id, other.state == "claimed", other.claimed_until > _NOW)
    return exists().where(other.client_id == Outgoing.client_id, or_(before, under_way))


_DUE = _due()  # built once: building it takes longer than the database takes to answer it


def _take(session: Session, row: Outgoing, now: datetime) -> Parcel:
    look_up = row.state != "waiting"
    number, attempts = row.claim + 1, row.attempts + (0 if look_up else 1)
    tried_at = row.tried_at or now if look_up else now
    values = {"claim": number, "attempts": attempts, "tried_at": tried_at, "claimed_until": now + LEASE}
    same = (Outgoing.id == row.id, Outgoing.state == row.state, Outgoing.claim == row.claim)
    _hit_one(session, update(Outgoing).where(*same).values(state="claimed", **values))
    return parcel_of(row, claim=number, look_up=look_up, attempts=attempts, tried_at=tried_at)


def _fault(row: Outgoing) -> str | None:
    if row.fingerprint != fingerprint(row.subject, row.text):
        return "the text is not the one that was decided on; write it again"
    if row.needs_yes and row.approved_by is None:
        return "it holds a price or promises a date, and nobody approved it"
    return None


def _end(session: Session, parcel: Parcel, **values: Any) -> None:
    mine = (Outgoing.id == parcel.id, Outgoing.claim == parcel.claim, Outgoing.state == "claimed")
    _hit_one(session, update(Outgoing).where(*mine).values(claimed_until=None, **values))


def _hit_one(session: Session, change: Any) -> None:
    result = session.execute(change.execution_options(synchronize_session=False))
    if not isinstance(result, CursorResult) or result.rowcount != 1:
        raise LeaseLost("another sender took the message over")


def _said(parcel: Parcel, provider_id: str, now: datetime) -> Message:
    named = [parcel.headers.get("In-Reply-To"), *str(parcel.headers.get("References") or "").split()]
    return Message(
        studio_id=parcel.studio_id,
        inquiry_id=parcel.inquiry_id,
        direction="out",
        channel=parcel.channel,
        provider_id=provider_id,
        sender=parcel.sender,
        recipient=parcel.recipient,
        subject=parcel.subject,
        text=parcel.text,
        automatic=parcel.automatic,
        thread_ids=[name for name in dict.fromkeys(named) if name],
        received_at=now,
    )


def _task(parcel: Parcel, kind: str, reason: str, now: datetime) -> Task:
    return Task(
        studio_id=parcel.studio_id, inquiry_id=parcel.inquiry_id, kind=kind, reason=reason[:500], created_at=now
    )


def _audit(studio_id: int, inquiry_id: int | None, what: str, now: datetime, **detail: Any) -> AuditLine:
    return AuditLine(studio_id=studio_id, at=now, who="sender", what=what, inquiry_id=inquiry_id, detail=detail)
