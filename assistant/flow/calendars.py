"""Foreign calendars in: their events become blocks tied to their source. The studio's own bookings out, as a feed."""

import hashlib
import secrets
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from assistant.availability.diary import midnight
from assistant.availability.ical import Busy, CalendarWrong, Entry, write_calendar
from assistant.flow.calendar_child import read_apart
from assistant.flow.errors import DecisionRefused
from assistant.flow.flow import Flow
from assistant.flow.reread import local_day
from assistant.store import queries_calendar as ask
from assistant.store.models import Booking, CalendarFeed, CalendarSource

AHEAD = timedelta(days=731)
FEED_SINCE = timedelta(days=90)
TOKEN_BYTES = 32


def add_source(flow: Flow, name: str, address: str | None = None) -> int:
    """Remember a calendar kept elsewhere; return its number. ``address`` is left out where files are brought in."""
    with flow.store.write() as session:
        source = CalendarSource(
            studio_id=flow.studio_id, name=name[:200], address=address, created_at=flow.now()
        )
        session.add(source)
        session.flush()
        return source.id


def bring_in(flow: Flow, source_id: int, data: bytes) -> int:
    """Replace a source's blocks by what its calendar holds for the next 24 months; return how many there are.

    Raises CalendarWrong; the blocks read before then stay, and the problem is kept with the source.
    """
    today = local_day(flow.rooms, flow.now())
    try:
        busy = read_apart(data, since=today, until=today + AHEAD, zone=flow.rooms.zone)
    except CalendarWrong as fault:
        keep_problem(flow, source_id, str(fault))
        raise
    with flow.store.write() as session:
        source = _live(session, flow, source_id)
        source.read_at, source.problem = flow.now(), None
        ask.end_blocks_of(session, source_id, flow.now())
        rows = [row for one in busy for row in _blocks(one, source, flow.rooms.zone, flow.now())]
        session.add_all(rows)
        return len(rows)


def keep_problem(flow: Flow, source_id: int, problem: str) -> None:
    """Keep with a source why it could not be read."""
    with flow.store.write() as session:
        _live(session, flow, source_id).problem = problem[:500]


def drop_source(flow: Flow, source_id: int) -> None:
    """Forget a source; its blocks end with it."""
    with flow.store.write() as session:
        _live(session, flow, source_id).ended_at = flow.now()
        ask.end_blocks_of(session, source_id, flow.now())


def new_feed(flow: Flow) -> str:
    """Return the token of a new private address for the studio's bookings; earlier ones end.

    It is shown this once: only its hash is kept.
    """
    token = secrets.token_urlsafe(TOKEN_BYTES)
    with flow.store.write() as session:
        ask.end_feeds(session, flow.studio_id, flow.now())
        session.add(CalendarFeed(studio_id=flow.studio_id, token_hash=_hash(token), created_at=flow.now()))
    return token


def feed_text(flow: Flow, token: str) -> bytes | None:
    """Return the calendar file that a token opens, or None when it opens nothing."""
    now = flow.now()
    with flow.store.read() as session:
        feed = ask.feed_of(session, _hash(token))
        if feed is None:
            return None
        rows = ask.own_claims(session, feed.studio_id, local_day(flow.rooms, now) - FEED_SINCE)
        live = [row for row in rows if row.expires_at is None or row.expires_at > now]
        return write_calendar(map(_entry, live), stamp=now)


def _live(session: Session, flow: Flow, source_id: int) -> CalendarSource:
    source = session.get(CalendarSource, source_id)
    if source is None or source.studio_id != flow.studio_id or source.ended_at is not None:
        raise DecisionRefused("this calendar is no longer read: add it again")
    return source


def _blocks(busy: Busy, source: CalendarSource, zone: ZoneInfo, now: datetime) -> list[Booking]:
    """Return the rows of one event; what is longer than the store looks back for is cut into several."""
    rows: list[Booking] = []
    start = busy.start
    while start < busy.end or not rows:
        day = start.astimezone(zone).date()
        end = min(busy.end, midnight(day + timedelta(days=ask.LONGEST_DAYS - 1), zone))
        rows.append(_block(busy, source, day, start, end, zone, now))
        start = end
    return rows


def _block(
    busy: Busy, source: CalendarSource, day: date, start: datetime, end: datetime, zone: ZoneInfo, now: datetime
) -> Booking:
    return Booking(
        studio_id=source.studio_id,
        source_id=source.id,
        kind="block",
        title=busy.title or source.name,
        day=day,
        start_at=start,
        end_at=end,
        zone=zone.key,
        created_at=now,
    )


def _entry(row: Booking) -> Entry:
    held = "Held: " if row.kind == "hold" else ""
    place = row.zip or ""
    return Entry(f"booking-{row.id}@{row.studio_id}.invalid", row.start_at, row.end_at, f"{held}{row.title}", place)


def _hash(token: str) -> str:
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()
