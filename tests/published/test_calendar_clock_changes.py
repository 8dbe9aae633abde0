"""Clock changes, leap days and year ends in four zones: no event shifts, no hour is made or lost.

The days of change are 15 USC 260a (second Sunday of March, first of November), Directive 2000/84/EC (last Sundays of
March and October) and the IANA zone tables; Phoenix has no change (15 USC 260a(a), exempted by state law).
"""

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest

from assistant.availability import Needs, judge, read_bookings
from assistant.availability.diary import days_of, diary_of, midnight
from assistant.availability.ical import Entry, read_busy, write_calendar
from assistant.availability.job import Job
from assistant.availability.judging import judge_day
from assistant.availability.rules import CalendarRules
from assistant.loading.availability import load_calendar
from assistant.rulebook import Rulebook

ZONES = ["America/New_York", "America/Phoenix", "Europe/Madrid", "Australia/Lord_Howe"]
RULES = load_calendar(Rulebook())
# Changes of 2026 to 2028 in those zones, the days around them, leap days, year ends.
DAYS = [
    date(2027, 3, 13),
    date(2027, 3, 14),
    date(2027, 3, 15),
    date(2027, 11, 6),
    date(2027, 11, 7),
    date(2027, 11, 8),
    date(2028, 3, 12),
    date(2028, 11, 5),
    date(2027, 3, 28),
    date(2027, 10, 31),
    date(2028, 3, 26),
    date(2028, 10, 29),
    date(2027, 4, 4),
    date(2027, 10, 3),
    date(2028, 4, 2),
    date(2028, 2, 28),
    date(2028, 2, 29),
    date(2028, 3, 1),
    date(2027, 12, 31),
    date(2028, 1, 1),
]


def rules_in(zone: str) -> CalendarRules:
    return replace(RULES, zone=ZoneInfo(zone))


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("day", DAYS, ids=str)
def test_a_set_up_stands_half_an_hour_before_the_guests_by_the_local_clock(zone: str, day: date) -> None:
    rules = rules_in(zone)
    needs = Needs.of(build=1, event_day=2, travel=0.5, on_site=1)
    job = Job(needs, diary_of([], rules, date(2027, 3, 1)), rules, date(2027, 3, 1), start=time(15))
    found = judge_day(day, job)
    assert found.slot is not None
    assert found.slot[1].astimezone(rules.zone) == datetime.combine(day, time(14, 30), rules.zone)
    assert found.slot[1] - found.slot[0] == timedelta(hours=1)


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("day", DAYS, ids=str)
def test_a_job_counts_on_its_own_day_and_no_other(zone: str, day: date) -> None:
    rules = rules_in(zone)
    [booking] = read_bookings([{"start": f"{day}T00:30", "end": f"{day}T23:30", "crew_hours": 4}], rules.zone)
    free = [
        judge(day + timedelta(days=n), bookings=[booking], rules=rules, today=date(2027, 3, 1)).crew_hours_free
        for n in (0, 1)
    ]
    assert free == [5.0, 9.0]


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("day", DAYS, ids=str)
def test_a_day_has_the_minutes_between_its_midnights(zone: str, day: date) -> None:
    place = ZoneInfo(zone)
    start, end = midnight(day, place), midnight(day + timedelta(days=1), place)
    assert list(days_of(start, end, place)) == [(day, int((end - start).total_seconds() / 60))]


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("day", DAYS, ids=str)
def test_an_event_out_and_in_again_is_the_same_instant(zone: str, day: date) -> None:
    place = ZoneInfo(zone)
    start = datetime.combine(day, time(9), place)
    entry = Entry("1@example.com", start, start + timedelta(hours=2), "x")
    [busy] = read_busy(
        write_calendar([entry], stamp=start), since=day - timedelta(days=2), until=day + timedelta(days=2), zone=place
    )
    assert (busy.start, busy.end) == (start.astimezone(UTC), start.astimezone(UTC) + timedelta(hours=2))


def test_the_short_day_has_23_hours_and_the_long_one_25() -> None:
    place = ZoneInfo("America/New_York")
    lengths = [midnight(day + timedelta(days=1), place) - midnight(day, place) for day in (DAYS[1], DAYS[4])]
    assert lengths == [timedelta(hours=23), timedelta(hours=25)]


def test_an_hour_that_does_not_exist_is_the_one_after_and_one_that_comes_twice_is_its_first() -> None:
    # RFC 5545 section 3.3.5: a local time in the gap is read with the offset before it, one in the fold is its first
    place = ZoneInfo("America/New_York")
    [gap, fold] = read_bookings(
        [
            {"start": "2027-03-14T02:30", "end": "2027-03-14T04:00"},
            {"start": "2027-11-07T01:30", "end": "2027-11-07T04:00"},
        ],
        place,
    )
    assert gap.start == datetime(2027, 3, 14, 7, 30, tzinfo=UTC)
    assert gap.start.astimezone(place).hour == 3
    assert fold.start == datetime(2027, 11, 7, 5, 30, tzinfo=UTC)


def test_new_york_nine_oclock_is_14_utc_in_winter_and_13_in_summer() -> None:
    # IANA zone table, 15 USC 260a: the change of 8 March and 1 November 2026
    place = ZoneInfo("America/New_York")
    hours = [
        datetime(*day, 9, tzinfo=place).astimezone(UTC).hour for day in ((2026, 3, 7), (2026, 3, 8), (2026, 11, 1))
    ]
    assert hours == [14, 13, 14]
