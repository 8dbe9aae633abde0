"""What the designer's pages ask of the store: named questions, each led by the studio, none asked once per row."""

from collections.abc import Iterable, Sequence
from datetime import date, datetime

from sqlalchemy import and_, exists, func, or_, select
from sqlalchemy.orm import Session, aliased, defer, joinedload, selectinload

from assistant.store.models import Booking, Client, Draft, Inquiry, Message, Outgoing, Task

OPEN_DRAFTS = ("waiting", "kept")
UNDONE = 100
WHO = joinedload(Inquiry.client).selectinload(Client.addresses)


def open_drafts(session: Session, studio_id: int) -> Sequence[Draft]:
    """Return the drafts that wait or are kept, with their inquiry and client, oldest first, at most UNDONE."""
    return session.scalars(
        select(Draft)
        .where(Draft.studio_id == studio_id, Draft.state.in_(OPEN_DRAFTS))
        .options(joinedload(Draft.inquiry).options(WHO))
        .order_by(Draft.created_at, Draft.id)
        .limit(UNDONE)
    ).all()


def open_tasks(session: Session, studio_id: int) -> Sequence[Task]:
    """Return the tasks not done yet, the earliest due first."""
    return session.scalars(
        select(Task)
        .where(Task.studio_id == studio_id, Task.done_at.is_(None))
        .options(joinedload(Task.inquiry).options(WHO))
        .order_by(func.coalesce(Task.due_at, Task.created_at), Task.id)
        .limit(UNDONE)
    ).all()


def stuck_sends(session: Session, studio_id: int) -> Sequence[Outgoing]:
    """Return sends that failed or are unsure, unless a later message to that inquiry went out or it is over."""
    later = aliased(Outgoing)
    mended = exists().where(
        later.inquiry_id == Outgoing.inquiry_id, later.id > Outgoing.id, later.state.in_(("sent", "waiting", "claimed"))
    )
    live = or_(Inquiry.id.is_(None), Inquiry.state.not_in(("done", "closed")))
    return session.scalars(
        select(Outgoing)
        .outerjoin(Inquiry, Inquiry.id == Outgoing.inquiry_id)
        .where(
            Outgoing.studio_id == studio_id,
            or_(Outgoing.state == "unsure", and_(Outgoing.state == "failed", ~mended, live)),
        )
        .options(joinedload(Outgoing.inquiry).options(WHO))
        .order_by(Outgoing.created_at, Outgoing.id)
        .limit(UNDONE)
    ).all()


def last_heard(session: Session, inquiry_ids: Iterable[int]) -> dict[int, datetime]:
    """Return when each inquiry's client wrote last."""
    rows = session.execute(
        select(Message.inquiry_id, func.max(Message.received_at))
        .where(Message.inquiry_id.in_(list(inquiry_ids)), Message.direction == "in")
        .group_by(Message.inquiry_id)
    )
    return {inquiry_id: heard for inquiry_id, heard in rows if inquiry_id is not None}


def inquiries_page(session: Session, studio_id: int, *, skip: int, size: int) -> tuple[Sequence[Inquiry], bool]:
    """Return one page of all inquiries, the latest first, and whether more follow."""
    rows = session.scalars(
        select(Inquiry)
        .where(Inquiry.studio_id == studio_id)
        .options(WHO)
        .order_by(Inquiry.updated_at.desc(), Inquiry.id.desc())
        .offset(skip)
        .limit(size + 1)
    ).all()
    return rows[:size], len(rows) > size


def whole_inquiry(session: Session, studio_id: int, inquiry_id: int) -> Inquiry | None:
    """Return an inquiry of this studio with client, messages, drafts and tasks; raw mail is left out."""
    messages = selectinload(Inquiry.messages).options(defer(Message.raw), defer(Message.whole_text))
    return session.scalar(
        select(Inquiry)
        .where(Inquiry.studio_id == studio_id, Inquiry.id == inquiry_id)
        .options(
            WHO,
            messages,
            selectinload(Inquiry.drafts).joinedload(Draft.decider),
            selectinload(Inquiry.tasks),
        )
    )


def outgoing_of(session: Session, inquiry_id: int) -> Sequence[Outgoing]:
    """Return everything sent or to be sent for an inquiry, in order."""
    return session.scalars(select(Outgoing).where(Outgoing.inquiry_id == inquiry_id).order_by(Outgoing.id)).all()


def claims_of(session: Session, inquiry_id: int) -> Sequence[Booking]:
    """Return the calendar's live bookings and holds for an inquiry."""
    return session.scalars(
        select(Booking).where(Booking.inquiry_id == inquiry_id, Booking.ended_at.is_(None)).order_by(Booking.day)
    ).all()


def inquiry_exists(session: Session, studio_id: int, inquiry_id: int) -> bool:
    """Tell whether the studio has this inquiry."""
    question = select(Inquiry.id).where(Inquiry.studio_id == studio_id, Inquiry.id == inquiry_id)
    return session.scalar(question) is not None


def draft_of(session: Session, studio_id: int, draft_id: int) -> Draft | None:
    """Return a draft of this studio with who decided on it."""
    return session.scalar(
        select(Draft).where(Draft.studio_id == studio_id, Draft.id == draft_id).options(joinedload(Draft.decider))
    )


def task_of(session: Session, studio_id: int, task_id: int) -> Task | None:
    """Return a task of this studio."""
    return session.scalar(select(Task).where(Task.studio_id == studio_id, Task.id == task_id))


def sent_for_draft(session: Session, draft_id: int) -> Outgoing | None:
    """Return the message that a yes to the draft put on its way."""
    return session.scalar(select(Outgoing).where(Outgoing.draft_id == draft_id))


def claims_between(session: Session, studio_id: int, first: date, last: date) -> Sequence[Booking]:
    """Return the live bookings, holds and blocks of the days from ``first`` to ``last``."""
    return session.scalars(
        select(Booking)
        .where(
            Booking.studio_id == studio_id,
            Booking.day >= first,
            Booking.day <= last,
            Booking.ended_at.is_(None),
        )
        .order_by(Booking.day, Booking.start_at, Booking.id)
    ).all()


def claim_of(session: Session, studio_id: int, booking_id: int) -> Booking | None:
    """Return a live booking, hold or block of this studio."""
    return session.scalar(
        select(Booking).where(Booking.studio_id == studio_id, Booking.id == booking_id, Booking.ended_at.is_(None))
    )


def sent_page(session: Session, studio_id: int, *, skip: int, size: int) -> tuple[Sequence[Outgoing], bool]:
    """Return one page of everything that was sent or waits to be, the latest first, and whether more follow."""
    rows = session.scalars(
        select(Outgoing)
        .where(Outgoing.studio_id == studio_id)
        .options(joinedload(Outgoing.inquiry).options(WHO))
        .order_by(Outgoing.id.desc())
        .offset(skip)
        .limit(size + 1)
    ).all()
    return rows[:size], len(rows) > size
