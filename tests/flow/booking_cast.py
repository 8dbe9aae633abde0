"""The cast of the booking tests: quoted clients, and the calendar's rows as the store has them."""

from datetime import date, datetime

from flow_studio import COMPLETE, Studio
from sqlalchemy import select

from assistant.store.models import Booking

DAY = date(2027, 5, 22)
PAID = date(2027, 3, 1)


def quoted(studio: Studio, sender: str = "+12025550111", text: str = COMPLETE) -> int:
    """Let a client's quote go out; return the inquiry."""
    inquiry = studio.text(text, sender=sender)
    draft = studio.draft(inquiry)
    assert draft is not None
    studio.say_yes(draft)
    return inquiry


def book(studio: Studio, inquiry: int, cents: int = 20000, paid_on: date = PAID) -> int:
    return studio.flow.book(inquiry, designer_id=1, deposit_cents=cents, paid_on=paid_on)


def live(studio: Studio, kind: str) -> list[Booking]:
    with studio.store.read() as session:
        rows = select(Booking).where(Booking.kind == kind, Booking.ended_at.is_(None)).order_by(Booking.id)
        return list(session.scalars(rows))


def fill(studio: Studio, day: date = DAY, *, minutes: int = 540, build: int = 0) -> None:
    """Put a job by hand that leaves ``540 - minutes`` crew minutes of the day."""
    begins = datetime(day.year, day.month, day.day, 4, tzinfo=studio.time.tzinfo)
    with studio.store.write() as session:
        session.add(
            Booking(
                studio_id=1,
                kind="job",
                title="Invented job",
                day=day,
                start_at=begins,
                end_at=begins.replace(minute=30),
                zone="America/New_York",
                crew_minutes=minutes,
                build_minutes=build,
                created_at=studio.time,
            )
        )
