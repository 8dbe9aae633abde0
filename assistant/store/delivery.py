"""The carrier's reports on a sent text: they only move forward, whatever order they arrive in."""

from datetime import datetime

from sqlalchemy import CursorResult, or_, select, update
from sqlalchemy.orm import Session

from assistant.store.models import Outgoing, Task

# What may be overwritten by what: a later word has a higher rank, last words have none above them.
RANK = {"accepted": 0, "queued": 1, "sending": 2, "sent": 3, "delivered": 4, "undelivered": 4, "failed": 4, "read": 5}
BAD = ("undelivered", "failed")


def outgoing_of_report(session: Session, outgoing_id: int | None, provider_id: str) -> Outgoing | None:
    """Return the message that a report is about: by our id in the address the provider calls, else by its own id."""
    if outgoing_id is not None:
        row = session.get(Outgoing, outgoing_id)
        return row if row and row.provider_id in (None, provider_id) else None
    return session.scalar(select(Outgoing).where(Outgoing.provider_id == provider_id))


def report(
    session: Session, row: Outgoing, provider_id: str, status: str, code: str | None, now: datetime
) -> bool:
    """Write a report down; False when it says nothing newer. A text that did not arrive becomes a task.

    A report on a message whose sending was unsure proves that the provider took it: the sender then needs no person.
    """
    if status not in RANK:
        return False
    if row.state == "unsure":
        row.held_at, row.due_at = None, now
    row.provider_id = provider_id
    lower = [known for known, rank in RANK.items() if rank < RANK[status]]
    moved = session.execute(
        update(Outgoing)
        .where(Outgoing.id == row.id, or_(Outgoing.delivery.is_(None), Outgoing.delivery.in_(lower)))
        .values(delivery=status)
        .execution_options(synchronize_session=False)
    )
    if not isinstance(moved, CursorResult) or moved.rowcount != 1:
        return False
    if status in BAD:
        session.add(_task(row, code, now))
    return True


def _task(row: Outgoing, code: str | None, now: datetime) -> Task:
    reason = "The carrier could not deliver your text" + (f" (its code is {code})" if code else "")
    return Task(
        studio_id=row.studio_id,
        inquiry_id=row.inquiry_id,
        kind="not_delivered",
        reason=f"{reason}: call, or write by mail.",
        created_at=now,
    )
