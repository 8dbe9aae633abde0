"""The designer's decisions on one inquiry: yes to a text, keep, answer herself, close."""

from datetime import datetime
from typing import Any

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from assistant.flow.addresses import Addresses
from assistant.flow.drafts import OPEN_STATES, drop_open, same_newlines
from assistant.flow.errors import AlreadyDecided, TextChanged
from assistant.flow.holds import hold_day
from assistant.flow.memory import memory_of, remember
from assistant.flow.outgoing import check_sendable, put_outgoing
from assistant.flow.rooms import Rooms
from assistant.store.models import AuditLine, Booking, Designer, Draft, Inquiry, Outgoing, Task
from assistant.store.parcels import fingerprint


def approve(
    session: Session,
    rooms: Rooms,
    draft_id: int,
    *,
    shown: str,
    subject: str | None,
    text: str,
    designer_id: int,
    addresses: Addresses,
    now: datetime,
) -> Outgoing:
    """Take the designer's yes to exactly ``text``, given while looking at the draft with fingerprint ``shown``.

    The draft is won by one conditional update, so of two designers one sends and the other learns who was first. A
    quote for a known day holds that day; raises DayGone when it filled up or closed since the draft was made.
    """
    subject, text = (same_newlines(subject) if subject else None), same_newlines(text)
    draft = session.get_one(Draft, draft_id)
    inquiry = session.get_one(Inquiry, draft.inquiry_id)
    if draft.state in OPEN_STATES and draft.fingerprint != shown:
        raise TextChanged
    if draft.state in OPEN_STATES:
        check_sendable(session, inquiry, text, draft.purpose)
    _win(session, draft, "approved", designer_id, now)
    if draft.purpose == "draft":
        hold_day(session, rooms, inquiry, draft, now)
    draft.subject, draft.text, draft.fingerprint = subject, text, fingerprint(subject, text)
    row = put_outgoing(
        session,
        inquiry,
        addresses,
        subject=subject,
        text=text,
        purpose=draft.purpose,
        approved_by=designer_id,
        due_at=now,
        now=now,
        draft=draft,
    )
    _remember_what_went(inquiry, draft)
    priced = draft.purpose == "draft"
    _move(inquiry, "quoted" if priced else "asking", now)
    finish_tasks(session, inquiry.id, now, designer_id)
    note(session, inquiry, f"designer {designer_id}", "approved", now, {"draft": draft.id, "outgoing": row.id})
    return row


def write_herself(
    session: Session,
    inquiry_id: int,
    *,
    subject: str | None,
    text: str,
    designer_id: int,
    addresses: Addresses,
    now: datetime,
) -> Outgoing:
    """Send the designer's own text: her yes is the writing of it. An open draft is dropped."""
    inquiry = session.get_one(Inquiry, inquiry_id, with_for_update=True)
    subject, text = (same_newlines(subject) if subject else None), same_newlines(text)
    row = put_outgoing(
        session,
        inquiry,
        addresses,
        subject=subject,
        text=text,
        purpose="own_words",
        approved_by=designer_id,
        due_at=now,
        now=now,
    )
    drop_open(session, inquiry_id, now, "dropped")
    finish_tasks(session, inquiry_id, now, designer_id)
    _move(inquiry, "asking", now)
    note(session, inquiry, f"designer {designer_id}", "wrote", now, {"outgoing": row.id})
    return row


def keep(session: Session, draft_id: int, *, designer_id: int, now: datetime) -> None:
    """Put a draft aside for later; it stays open."""
    draft = session.get_one(Draft, draft_id)
    _win(session, draft, "kept", designer_id, now)


def answer_myself(session: Session, inquiry_id: int, *, designer_id: int, now: datetime) -> None:
    """Drop the draft: the designer answers by her own means, and the assistant stays silent until then."""
    inquiry = session.get_one(Inquiry, inquiry_id, with_for_update=True)
    held = session.scalar(select(Draft).where(Draft.inquiry_id == inquiry_id, Draft.state.in_(OPEN_STATES)))
    if held:
        _win(session, held, "dropped", designer_id, now)
    finish_tasks(session, inquiry_id, now, designer_id)
    _move(inquiry, "asking", now)
    note(session, inquiry, f"designer {designer_id}", "answers herself", now, {})


def close(session: Session, inquiry_id: int, *, reason: str, designer_id: int | None, now: datetime) -> None:
    """End an inquiry with a reason; its open draft, tasks and hold end with it."""
    inquiry = session.get_one(Inquiry, inquiry_id, with_for_update=True)
    drop_open(session, inquiry_id, now, "dropped")
    finish_tasks(session, inquiry_id, now, designer_id)
    session.execute(
        update(Booking)
        .where(Booking.inquiry_id == inquiry_id, Booking.kind == "hold", Booking.ended_at.is_(None))
        .values(ended_at=now)
    )
    inquiry.closed_reason = reason[:200]
    _move(inquiry, "closed", now)
    note(
        session,
        inquiry,
        f"designer {designer_id}" if designer_id else "client",
        "closed",
        now,
        {"reason": reason[:200]},
    )


def finish_tasks(session: Session, inquiry_id: int, now: datetime, designer_id: int | None) -> None:
    """An answer or an end settles what the inquiry asked of the designer."""
    inquiry = session.get_one(Inquiry, inquiry_id)
    remember(inquiry, memory_of(inquiry).after_take_up())
    session.execute(
        update(Task)
        .where(Task.inquiry_id == inquiry_id, Task.done_at.is_(None))
        .values(done_at=now, done_by=designer_id)
    )


def note(session: Session, inquiry: Inquiry, who: str, what: str, now: datetime, detail: dict[str, Any]) -> None:
    """Write one audit line; it never holds a message's words."""
    session.add(
        AuditLine(studio_id=inquiry.studio_id, at=now, who=who, what=what, inquiry_id=inquiry.id, detail=detail)
    )


def _remember_what_went(inquiry: Inquiry, draft: Draft) -> None:
    """Questions that she let go count as asked, and the line on the assistant has been said."""
    inquiry.introduced = True
    if draft.purpose != "ask":
        return
    ids = tuple(question["id"] for question in (inquiry.step or {}).get("questions", ()))
    remember(inquiry, memory_of(inquiry).after_asking(ids))
    inquiry.rounds += bool(ids)


def _win(session: Session, draft: Draft, state: str, designer_id: int, now: datetime) -> None:
    """Change the draft's state if nobody did before; else tell who was first."""
    from_states = ("waiting",) if state == "kept" else OPEN_STATES
    won = session.execute(
        update(Draft)
        .where(Draft.id == draft.id, Draft.state.in_(from_states))
        .values(state=state, decided_by=designer_id, decided_at=now)
        .execution_options(synchronize_session=False)
    )
    session.refresh(draft)
    if won.rowcount != 1:  # type: ignore[attr-defined]
        by = session.get(Designer, draft.decided_by) if draft.decided_by else None
        raise AlreadyDecided(by.name if by else None, draft.decided_at, draft.state)


def _move(inquiry: Inquiry, state: str, now: datetime) -> None:
    """Change the inquiry's state; a booked or accepted one does not fall back by a mere answer."""
    if state == "closed" or inquiry.state not in ("accepted", "booked", "done"):
        inquiry.state = state
    inquiry.version += 1
    inquiry.updated_at = now
