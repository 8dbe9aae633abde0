"""The calendar: how full each day is, and keeping it by hand."""

from datetime import UTC, date, datetime

import pytest
from bs4 import BeautifulSoup
from desk_cast import NOW, Person, add_booking, add_inquiry
from sqlalchemy import select

from assistant.store import Store
from assistant.store.models import Booking


def day(person: Person, iso: str) -> str:
    page = BeautifulSoup(person.get(f"/desk/dates?month={iso[:7]}").text, "html.parser")
    return " ".join(page.find(id=f"d-{iso}").get_text(" ").split())  # type: ignore[union-attr]


def bookings(store: Store) -> list[Booking]:
    with store.read() as session:
        return list(session.scalars(select(Booking).where(Booking.ended_at.is_(None)).order_by(Booking.id)))


def test_a_day_shows_its_jobs_and_how_full_it_is(marit: Person, store: Store) -> None:
    add_booking(store, title="Baby shower garland")
    shown = day(marit, "2027-03-20")
    assert "Baby shower garland" in shown
    assert "4 of 9 h taken" in shown
    assert "10:00" in shown  # 14:00 UTC in New York, daylight time


def test_building_fills_the_day_before(marit: Person, store: Store) -> None:
    add_booking(store, build_minutes=150)
    assert "2.5 of 9 h taken" in day(marit, "2027-03-19")


def test_a_job_on_the_first_fills_the_last_day_of_the_month_before(marit: Person, store: Store) -> None:
    add_booking(
        store,
        day=date(2027, 5, 1),
        start_at=datetime(2027, 5, 1, 14, tzinfo=UTC),
        end_at=datetime(2027, 5, 1, 18, tzinfo=UTC),
    )
    assert "3 of 9 h taken" in day(marit, "2027-04-30")


def test_a_full_day_says_so_in_words(marit: Person, store: Store) -> None:
    add_booking(store, crew_minutes=540)
    assert "9 of 9 h taken , full" in day(marit, "2027-03-20")


def test_a_hold_counts_until_it_lapses(marit: Person, store: Store) -> None:
    add_booking(store, kind="hold", expires_at=NOW.replace(hour=16), title="Held for Dana")
    assert "4 of 9 h taken" in day(marit, "2027-03-20")
    add_booking(store, kind="hold", expires_at=NOW.replace(hour=14), title="Lapsed")
    assert "Lapsed" not in day(marit, "2027-03-20")


def test_an_entry_leads_to_its_inquiry(marit: Person, store: Store) -> None:
    inquiry = add_inquiry(store, ["x"])
    add_booking(store, inquiry_id=inquiry)
    assert f"/desk/inquiry/{inquiry}" in marit.get("/desk/dates?month=2027-03").text


JOB = {
    "kind": "job",
    "title": "Gala",
    "day": "2027-03-20",
    "start": "10:00",
    "end": "15:30",
    "crew_hours": "5.5",
    "build_hours": "4",
    "zip": "14850",
}


def test_a_job_is_put_in_with_its_hours_in_the_studios_time(marit: Person, store: Store) -> None:
    assert marit.post("/desk/dates/add", JOB).location == "/desk/dates?month=2027-03&said=date_added#d-2027-03-20"
    (row,) = bookings(store)
    assert (row.start_at, row.end_at) == (
        datetime(2027, 3, 20, 14, tzinfo=UTC),
        datetime(2027, 3, 20, 19, 30, tzinfo=UTC),
    )
    assert (row.crew_minutes, row.build_minutes, row.zone, row.zip) == (330, 240, "America/New_York", "14850")


def test_time_off_without_hours_is_the_whole_day_also_when_the_clocks_change(marit: Person, store: Store) -> None:
    # 2027-03-14 has 23 hours in New York (IANA time zone database)
    marit.post("/desk/dates/add", {"kind": "block", "title": "Trip", "day": "2027-03-14"})
    (row,) = bookings(store)
    assert (row.end_at - row.start_at).total_seconds() == 23 * 3600
    assert "the whole day" in day(marit, "2027-03-14")
    assert "full" in day(marit, "2027-03-14")


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"title": " "}, "say what it is"),
        ({"day": "2027-02-30"}, "this is no day"),
        ({"day": "1999-01-01"}, "within 3 years"),
        ({"start": "10:99"}, "no time of day"),
        ({"end": "09:00"}, "ends before it starts"),
        ({"end": ""}, "say when it ends"),
        ({"crew_hours": "many"}, "a number or a range"),
        ({"crew_hours": "2-3"}, "one number of hours"),
        ({"build_hours": "1000"}, "give 0.1 to 100"),
        ({"zip": "x" * 11}, "10 at most"),
        ({"kind": "hold"}, "choose a job"),
    ],
)
def test_what_is_wrong_is_said_and_what_was_typed_stays(
    marit: Person, store: Store, given: dict[str, str], said: str
) -> None:
    answer = marit.post("/desk/dates/add", {**JOB, **given})
    assert answer.status_code == 400
    assert said in answer.text
    page = BeautifulSoup(answer.text, "html.parser")
    for name in set(JOB) - {"kind"}:
        typed = {**JOB, **given}[name].strip()
        assert page.find(id=name)["value"] == typed  # type: ignore[index]
    assert bookings(store) == []


def test_an_entry_is_taken_out_once_and_stays_in_the_store(marit: Person, store: Store) -> None:
    row = add_booking(store)
    assert marit.post(f"/desk/dates/{row}/remove").status_code == 303
    assert bookings(store) == []
    assert "Invented job" not in marit.get("/desk/dates?month=2027-03").text
    assert marit.post(f"/desk/dates/{row}/remove").status_code == 404
    with store.read() as session:
        assert session.get_one(Booking, row).ended_at == NOW


def test_a_time_that_the_clocks_skip_or_repeat_is_still_one_moment(marit: Person, store: Store) -> None:
    # 02:30 on 2027-03-14 does not exist in New York, 01:30 on 2027-11-07 comes twice (IANA time zone database)
    for iso, start in (("2027-03-14", "02:30"), ("2027-11-07", "01:30")):
        answer = marit.post("/desk/dates/add", {**JOB, "day": iso, "start": start, "end": "05:00"})
        assert answer.status_code == 303
    assert all(row.end_at > row.start_at for row in bookings(store))
