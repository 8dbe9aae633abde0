"""What the calendar asks of the store: live claims around a day, holds that ran out, what a quote was held for."""

from collections.abc import Sequence
from datetime import date, datetime, timedelta
from typing import NamedTuple

from sqlalchemy import and_, or_, select, update
from sqlalchemy.orm import Session

from assistant.store.models import Booking, CalendarFeed, CalendarSource, Draft, Inquiry

# No claim is longer, so that those reaching into a day are found by their first day; imports are cut to it.
LONGEST_DAYS = 31


class ClaimRow(NamedTuple):
    """A live claim, without the cost of a whole row."""

    kind: str
    day: date
    start_at: datetime
    end_at: datetime
    zone: str
    crew_minutes: int | None
    build_minutes: int | None
    build_on: date | None
    zip: str | None
    takes: dict[str, int] | None
    strike_at: datetime | None


def claims_near(session: Session, inquiry: Inquiry, first: date, last: date) -> list[ClaimRow]:
    """Return what others and the studio itself have claimed from ``first`` to ``last``.

    Left out are the inquiry's own claims and all holds of its client, who can hold one day at a time.
    """
    own = select(Inquiry.id).where(Inquiry.client_id == inquiry.client_id)
    others = or_(
        Booking.inquiry_id.is_(None),
        and_(Booking.inquiry_id != inquiry.id, or_(Booking.kind != "hold", Booking.inquiry_id.not_in(own))),
    )
    columns = [getattr(Booking, name) for name in ClaimRow._fields]
    rows = session.execute(
        select(*columns).where(
            Booking.studio_id == inquiry.studio_id,
            Booking.day.between(first - timedelta(days=LONGEST_DAYS), last),
            Booking.ended_at.is_(None),
            others,
        )
    )
    return [ClaimRow(*row) for row in rows]


def expired_holds(session: Session, studio_id: int, now: datetime) -> Sequence[Booking]:
    """Return the holds whose time is over and that nobody has ended."""
    return session.scalars(
        select(Booking)
        .where(
            Booking.studio_id == studio_id,
            Booking.kind == "hold",
            Booking.ended_at.is_(None),
            Booking.expires_at <= now,
        )
        .order_by(Booking.id)
    ).all()


def end_holds(session: Session, client_id: int, now: datetime) -> None:
    """End every live hold of a client."""
    own = select(Inquiry.id).where(Inquiry.client_id == client_id)
    session.execute(
        update(Booking)
        .where(Booking.inquiry_id.in_(own), Booking.kind == "hold", Booking.ended_at.is_(None))
        .values(ended_at=now)
        .execution_options(synchronize_session=False)
    )


def last_hold(session: Session, inquiry_id: int) -> Booking | None:
    """Return the latest hold of an inquiry, ended or not."""
    return session.scalar(
        select(Booking)
        .where(Booking.inquiry_id == inquiry_id, Booking.kind == "hold")
        .order_by(Booking.id.desc())
        .limit(1)
    )


def live_job(session: Session, inquiry_id: int) -> Booking | None:
    """Return the booked job of an inquiry."""
    return session.scalar(
        select(Booking).where(
            Booking.inquiry_id == inquiry_id, Booking.kind == "job", Booking.ended_at.is_(None)
        )
    )


def last_priced_draft(session: Session, inquiry_id: int, states: tuple[str, ...]) -> Draft | None:
    """Return the newest draft with a price that is in one of ``states``."""
    return session.scalar(
        select(Draft)
        .where(Draft.inquiry_id == inquiry_id, Draft.purpose == "draft", Draft.state.in_(states))
        .order_by(Draft.version.desc())
        .limit(1)
    )


def sources_of(session: Session, studio_id: int) -> Sequence[CalendarSource]:
    """Return the foreign calendars the studio reads."""
    return session.scalars(
        select(CalendarSource)
        .where(CalendarSource.studio_id == studio_id, CalendarSource.ended_at.is_(None))
        .order_by(CalendarSource.id)
    ).all()


def end_blocks_of(session: Session, source_id: int, now: datetime) -> None:
    """End the blocks that were read from a calendar."""
    session.execute(
        update(Booking)
        .where(Booking.source_id == source_id, Booking.ended_at.is_(None))
        .values(ended_at=now)
        .execution_options(synchronize_session=False)
    )


def feed_of(session: Session, token_hash: str) -> CalendarFeed | None:
    """Return the live feed that a token opens."""
    return session.scalar(
        select(CalendarFeed).where(CalendarFeed.token_hash == token_hash, CalendarFeed.ended_at.is_(None))
    )


def end_feeds(session: Session, studio_id: int, now: datetime) -> None:
    """End every address at which the studio's bookings can be read."""
    session.execute(
        update(CalendarFeed)
        .where(CalendarFeed.studio_id == studio_id, CalendarFeed.ended_at.is_(None))
        .values(ended_at=now)
        .execution_options(synchronize_session=False)
    )


def own_claims(session: Session, studio_id: int, since: date) -> Sequence[Booking]:
    """Return the live jobs and holds from ``since`` on; what was read from elsewhere is not given out again."""
    return session.scalars(
        select(Booking)
        .where(
            Booking.studio_id == studio_id,
            Booking.day >= since,
            Booking.ended_at.is_(None),
            Booking.kind != "block",
        )
        .order_by(Booking.day, Booking.id)
    ).all()
