"""The verdict for a day among 10,000 bookings in the store, against a bare SQL count of the same days, in one run.

    python tests/benchmarks/day_verdict.py [--bookings N] [--rounds N]

Three cases: an open day, a full day with its options, and a full day whose alternates are looked for over a year of
full days (the rules' within_days set to 366). Prints medians and ratios; no figure is asserted.
"""

import argparse
import statistics
import tempfile
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy import func, insert, select
from sqlalchemy.orm import Session

from assistant.flow.day import day_verdict
from assistant.flow.rooms import Rooms, load_rooms
from assistant.store import Store
from assistant.store.models import Booking, Client, Inquiry, Studio

NOW, TODAY = datetime(2027, 3, 1, 15, tzinfo=UTC), date(2027, 3, 1)
ZONE = ZoneInfo("America/New_York")
FREE = timedelta(days=2)
OPEN_DAY, FULL_DAY = date(2027, 9, 11), date(2027, 10, 16)


def main() -> None:
    """Fill a store, then ask and count in turn."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--bookings", type=int, default=10_000)
    parser.add_argument("--rounds", type=int, default=30)
    args = parser.parse_args()
    rooms = load_rooms(None)
    wide = _within(rooms, 366)
    with tempfile.TemporaryDirectory(prefix="verdict") as name:
        store = Store(f"sqlite:///{name}/store.sqlite")
        store.migrate()
        inquiry_id = fill(store, args.bookings)
        for label, day, some in (
            ("open day", OPEN_DAY, rooms),
            ("full day, 30 days", FULL_DAY, rooms),
            ("full day, 366 days", FULL_DAY, wide),
        ):
            measure(label, store, inquiry_id, day, some, args.rounds)
        store.close()


def fill(store: Store, count: int) -> int:
    """Write an inquiry, and bookings over 4.5 years: six short jobs a day until the count is reached."""
    with store.write() as session:
        session.add(Studio(name="Invented", created_at=NOW))
        session.flush()
        inquiry = Inquiry(
            studio_id=1, client=Client(studio_id=1, created_at=NOW), channel="sms", created_at=NOW, updated_at=NOW
        )
        session.add(inquiry)
        session.flush()
        first = FULL_DAY - timedelta(days=count // 12)
        busy = [first + timedelta(days=n // 6) for n in range(count)]
        session.execute(insert(Booking), [_row(day, n % 6) for n, day in enumerate(busy) if abs(day - OPEN_DAY) > FREE])
    return inquiry.id


def measure(label: str, store: Store, inquiry_id: int, day: date, rooms: Rooms, rounds: int) -> None:
    """Time the verdict and the count, one after the other."""
    facts = {"event_date": {"status": "stated", "value": day.isoformat()}}
    within = rooms.calendar.file.alternates.within_days
    word = ""

    def verdict(session: Session) -> None:
        nonlocal word
        inquiry = session.get_one(Inquiry, inquiry_id)
        found = day_verdict(session, rooms, inquiry, facts, None, TODAY)
        word = found["verdict"] if found else "none"

    def bare(session: Session) -> None:
        session.scalar(
            select(func.count())
            .select_from(Booking)
            .where(
                Booking.studio_id == 1,
                Booking.day.between(day - timedelta(days=within), day + timedelta(days=within)),
                Booking.ended_at.is_(None),
            )
        )

    took = {one: [_timed(store, one) for _ in range(rounds)] for one in (verdict, bare)}
    asked, counted = (1000 * statistics.median(took[one]) for one in (verdict, bare))
    print(f"{label:20} {word:5} {asked:8.2f} ms   bare count {counted:6.2f} ms   ratio {asked / counted:6.1f}")


def _timed(store: Store, work: Callable[[Session], None]) -> float:
    with store.read() as session:
        began = time.perf_counter()
        work(session)
        return time.perf_counter() - began


def _row(day: date, slot: int) -> dict[str, object]:
    begins = datetime(day.year, day.month, day.day, 7 + 2 * slot, tzinfo=ZONE)
    return {
        "studio_id": 1,
        "kind": "job",
        "title": "Invented job",
        "day": day,
        "start_at": begins,
        "end_at": begins + timedelta(hours=1),
        "zone": ZONE.key,
        "crew_minutes": 120,
        "build_minutes": 60,
        "created_at": NOW,
    }


def _within(rooms: Rooms, days: int) -> Rooms:
    file = rooms.calendar.file
    wider = replace(file, alternates=replace(file.alternates, within_days=days))
    return replace(rooms, calendar=replace(rooms.calendar, file=wider))


if __name__ == "__main__":
    main()
