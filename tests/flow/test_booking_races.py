"""The last slot goes to exactly one, however many deposits are noted at the same moment; on both databases."""

import threading
from datetime import datetime, timedelta

from booking_cast import PAID, live
from flow_studio import ZONE, Studio, shipped_rooms
from race_cast import FULL_DAY, quoted_inquiries
from sqlalchemy import func, select

from assistant.flow import DayGone
from assistant.store.models import Booking

DAYS, THREADS = 10, 6


def test_of_six_deposits_for_the_last_slot_one_books(studio: Studio) -> None:
    days = [datetime(2027, 5, 1, tzinfo=ZONE).date() + timedelta(days=2 * n) for n in range(DAYS)]
    inquiries = quoted_inquiries(studio.store, shipped_rooms(), days, THREADS, studio.time)
    lost: list[DayGone] = []
    for day in days:
        barrier = threading.Barrier(THREADS)

        def pay(inquiry: int, barrier: threading.Barrier = barrier) -> None:
            barrier.wait()
            try:
                studio.flow.book(inquiry, designer_id=1, deposit_cents=10_000, paid_on=PAID)
            except DayGone as gone:
                lost.append(gone)

        threads = [threading.Thread(target=pay, args=(inquiry,)) for inquiry in inquiries[day]]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    assert len(lost) == DAYS * (THREADS - 1)
    assert all(gone.verdict["verdict"] == "full" for gone in lost)
    with studio.store.read() as session:
        most = session.execute(
            select(Booking.day, func.sum(Booking.crew_minutes), func.count()).group_by(Booking.day)
        ).all()
    assert [count for _, _, count in most] == [1] * DAYS
    assert all(minutes <= FULL_DAY for _, minutes, _ in most)
    assert len(live(studio, "job")) == DAYS
