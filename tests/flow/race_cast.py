"""Quoted inquiries written straight into the store: several clients for each day, each job too big for a second."""

from collections.abc import Sequence
from datetime import date, datetime

from assistant.flow.rooms import Rooms
from assistant.store import Store
from assistant.store.models import Client, Draft, Inquiry

FULL_DAY = 540  # the shipped rules' crew minutes of a day
# Five planned hours of nine: one fits, two do not.
QUOTE = {
    "low": 40_000,
    "likely": 45_000,
    "high": 50_000,
    "hours": {"build": 2.0, "load": 0.5, "drive": 1.0, "install": 3.25, "strike": 0.0},
}


def quoted_inquiries(
    store: Store, rooms: Rooms, days: Sequence[date], clients: int, now: datetime
) -> dict[date, list[int]]:
    """Return the inquiries of each day, all with a quote that was sent."""
    found: dict[date, list[int]] = {}
    with store.write() as session:
        for day in days:
            rows = [_inquiry(day, now, rooms.version) for _ in range(clients)]
            session.add_all(rows)
            session.flush()
            found[day] = [row.id for row in rows]
    return found


def _inquiry(day: date, now: datetime, version: str) -> Inquiry:
    stated = {"status": "stated"}
    facts = {
        "event_date": {**stated, "value": day.isoformat()},
        "event_time": {**stated, "value": "15:00"},
        "pieces": [{"kind": "garland", "count": 1, "length_ft": [10, 10]}],
    }
    sent = Draft(
        studio_id=1,
        version=1,
        state="approved",
        text="Invented quote",
        fingerprint="0" * 64,
        purpose="draft",
        quote=QUOTE,
        verdict={"verdict": "open"},
        rules_version=version,
        created_at=now,
        decided_at=now,
    )
    return Inquiry(
        studio_id=1,
        client=Client(studio_id=1, created_at=now),
        channel="sms",
        state="quoted",
        facts=facts,
        quote=QUOTE,
        created_at=now,
        updated_at=now,
        drafts=[sent],
    )
