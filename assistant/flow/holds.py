"""Holds: a day kept for a client from the approved quote until the hold runs out or the deposit comes."""

from datetime import datetime, timedelta

from sqlalchemy.orm import Session

from assistant.availability.diary import midnight
from assistant.availability.judging import POSSIBLE
from assistant.availability.windows import take_down_at
from assistant.availability.words import long_day
from assistant.flow.day import Placed, place
from assistant.flow.errors import DayGone
from assistant.flow.reread import local_day
from assistant.flow.rooms import Rooms
from assistant.store import queries_calendar as ask
from assistant.store.models import AuditLine, Booking, Client, Draft, Inquiry, Task


def hold_day(session: Session, rooms: Rooms, inquiry: Inquiry, draft: Draft, now: datetime) -> Booking | None:
    """Hold the day of a quote that is being approved; an earlier hold of the client ends.

    Raises DayGone when the day was possible in the draft and no longer is. Nothing is held where no day is known, or
    where the draft was made knowing that the day can't be done.
    """
    today = local_day(rooms, now)
    placed = place(session, rooms, inquiry, inquiry.facts, draft.quote, today)
    if placed is None or inquiry.state in ("booked", "done"):
        return None
    if not placed.found.possible:
        if draft.verdict and draft.verdict.get("verdict") in POSSIBLE:
            raise DayGone(placed.verdict())
        return None
    ask.end_holds(session, inquiry.client_id, now)
    hours = rooms.calendar.hold_hours(rooms.studio.hold_hours, (placed.day - today).days)
    row = claim_row(session, rooms, inquiry, placed, "hold", now)
    row.expires_at = now + timedelta(hours=hours)
    session.add(row)
    session.flush()
    detail = {"booking": row.id, "day": placed.day.isoformat(), "hours": hours}
    _note(session, row, "hold made", now, detail)
    return row


def claim_row(
    session: Session, rooms: Rooms, inquiry: Inquiry, placed: Placed, kind: str, now: datetime
) -> Booking:
    """Return the calendar's row for a job on its day; without a known start it stands for the whole day.

    It takes the hours planned with, as far as the day has them, so that no row goes beyond the crew's hours.
    """
    zone, day, needs, room = rooms.zone, placed.day, placed.job.planned, placed.found.room
    slot = placed.found.slot if placed.job.start else None
    start, end = slot or (midnight(day, zone), midnight(day + timedelta(days=1), zone))
    return Booking(
        studio_id=inquiry.studio_id,
        inquiry_id=inquiry.id,
        kind=kind,
        title=_title(session, inquiry),
        day=day,
        start_at=start,
        end_at=end,
        zone=zone.key,
        crew_minutes=min(needs.event_day, room.event) if room else needs.event_day,
        build_minutes=min(needs.build, room.build) if room else needs.build,
        build_on=room.build_day if room else None,
        zip=placed.job.zip or None,
        takes=dict(needs.takes),
        strike_at=take_down_at(day, placed.job),
        created_at=now,
    )


def release_expired(session: Session, studio_id: int, now: datetime) -> int:
    """End the holds that ran out, each with an audit line and a task to tell the client kindly; return how many.

    Called again it finds nothing more to do.
    """
    expired = ask.expired_holds(session, studio_id, now)
    for hold in expired:
        hold.ended_at = now
        _note(session, hold, "hold ended", now, {"booking": hold.id, "day": hold.day.isoformat()})
        session.add(
            Task(
                studio_id=studio_id,
                inquiry_id=hold.inquiry_id,
                kind="hold_ended",
                reason=f"The hold on {long_day(hold.day)} ran out without a deposit and the day is free again: "
                "tell the client kindly, or send the quote again to hold it anew.",
                created_at=now,
            )
        )
    return len(expired)


def _title(session: Session, inquiry: Inquiry) -> str:
    client = session.get_one(Client, inquiry.client_id)
    kinds = ", ".join(dict.fromkeys(str(piece.get("kind", "")) for piece in inquiry.facts.get("pieces") or []))
    return f"{client.name or 'Client'}: {kinds or 'job'}"[:200]


def _note(session: Session, hold: Booking, what: str, now: datetime, detail: dict[str, object]) -> None:
    session.add(
        AuditLine(
            studio_id=hold.studio_id, at=now, who="studio", what=what, inquiry_id=hold.inquiry_id, detail=detail
        )
    )
