"""Asks the calendar whether an inquiry's day can be done, with the bookings that stand in the store now."""

from datetime import date, time, timedelta
from typing import Any

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from assistant.availability import Booking as Claim
from assistant.availability import Needs, judge, needs_of_hours
from assistant.flow.rooms import Rooms
from assistant.store.models import Booking, Inquiry

AROUND = timedelta(days=45)  # wider than the reach of alternates, so that each of those is judged by all its bookings


def day_verdict(
    session: Session, rooms: Rooms, inquiry: Inquiry, facts: dict[str, Any], quote: dict[str, Any] | None, today: date
) -> dict[str, Any] | None:
    """Return the verdict as `assistant dates` prints it, or None while no one day is known."""
    day = _known(facts.get("event_date"))
    if day is None:
        return None
    event = date.fromisoformat(day)
    begins = _known(facts.get("event_time"))
    return judge(
        event,
        start=time.fromisoformat(begins) if begins else None,
        needs=_needs(quote),
        bookings=claims(session, inquiry, event, today),
        rules=rooms.calendar,
        today=today,
        zip_code=zip_in(_known(facts.get("place")) or ""),
    ).to_json()


def claims(session: Session, inquiry: Inquiry, day: date, today: date) -> list[Claim]:
    """Return what other inquiries and the studio itself have claimed around ``day``."""
    rows = session.scalars(
        select(Booking).where(
            Booking.studio_id == inquiry.studio_id,
            Booking.day.between(day - AROUND, day + AROUND),
            Booking.ended_at.is_(None),
            or_(Booking.inquiry_id.is_(None), Booking.inquiry_id != inquiry.id),
        )
    )
    return [_claim(row, today) for row in rows]


def zip_in(place: str) -> str:
    """Return the last five-figure code in a place; US addresses end with it."""
    words = place.replace(",", " ").split()
    return next((word for word in reversed(words) if len(word) == 5 and word.isdecimal()), "")


def _claim(row: Booking, today: date) -> Claim:
    expires = row.expires_at.date() if row.expires_at else None
    return Claim(
        start=row.start_at,
        end=row.end_at,
        crew=row.crew_minutes,
        build=row.build_minutes,
        zip=row.zip or "",
        kind=row.kind,
        expires=max(expires, today - timedelta(days=1)) if expires else None,
    )


def _needs(quote: dict[str, Any] | None) -> Needs | None:
    return needs_of_hours(quote["hours"]) if quote else None


def _known(fact: Any) -> Any:
    if not isinstance(fact, dict) or fact.get("status") not in ("stated", "inferred", "set"):
        return None
    return fact.get("value")
