"""Days and clocks against the world outside: clock changes, weekdays, federal holidays, quiet hours."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

import holidays
import pytest

from assistant.availability import read_bookings
from assistant.availability.diary import days_of, midnight
from assistant.availability.words import long_day
from assistant.loading.wording import load_studio
from assistant.rulebook import Rulebook
from assistant.wording.studio import QuietHours

NEW_YORK = ZoneInfo("America/New_York")


# 15 USC 260a: clocks change on the second Sunday of March and the first Sunday of November, at 2 a.m.
@pytest.mark.parametrize(
    ("day", "minutes"),
    [("2026-03-08", 23 * 60), ("2026-11-01", 25 * 60), ("2027-03-14", 23 * 60), ("2027-11-07", 25 * 60)],
)
def test_a_day_of_the_clock_change_has_one_hour_less_or_more(day: str, minutes: int) -> None:
    first = date.fromisoformat(day)
    begin, end = midnight(first, NEW_YORK), midnight(first + timedelta(days=1), NEW_YORK)
    assert list(days_of(begin, end, NEW_YORK)) == [(first, minutes)]


# computed with the IANA time zone database: 09:00 New York in UTC around the clock changes of 2026
@pytest.mark.parametrize(
    ("day", "utc"), [("2026-03-07", 14), ("2026-03-08", 13), ("2026-10-31", 13), ("2026-11-01", 14)]
)
def test_nine_in_the_morning_is_another_instant_after_the_clock_change(day: str, utc: int) -> None:
    [booking] = read_bookings([{"start": f"{day}T09:00"}], NEW_YORK)
    assert booking.start == datetime.fromisoformat(f"{day}T{utc:02}:00").replace(tzinfo=UTC)


def test_an_hour_that_does_not_exist_and_one_that_comes_twice_are_read_without_a_fault() -> None:
    gone, twice = read_bookings([{"start": "2026-03-08T02:30"}, {"start": "2026-11-01T01:30"}], NEW_YORK)
    assert gone.start == datetime(2026, 3, 8, 7, 30, tzinfo=UTC)
    assert twice.start == datetime(2026, 11, 1, 5, 30, tzinfo=UTC)


# 5 USC 6103(a) by the holidays package: the weekday this program prints is the calendar's
def test_thanksgiving_is_a_thursday_in_the_words_of_a_verdict() -> None:
    days = holidays.country_holidays("US", years=range(2026, 2031), observed=False)
    found = [day for day, name in days.items() if name == "Thanksgiving Day"]
    assert len(found) == 5
    assert {long_day(day).split()[0] for day in found} == {"Thursday"}


# 47 CFR 64.1200(c)(1): not before 8 a.m. and not after 9 p.m. at the called party's place
@pytest.mark.parametrize(
    ("utc", "allowed"),
    [
        ("2026-03-08T11:59", False),  # 07:59 EDT, on the day of the clock change
        ("2026-03-08T12:00", True),  # 08:00 EDT
        ("2026-03-09T00:59", True),  # 20:59 EDT
        ("2026-03-09T01:00", False),  # 21:00 EDT
        ("2026-03-07T12:59", False),  # 07:59 EST, the day before
        ("2026-03-07T13:00", True),  # 08:00 EST
    ],
)
def test_texts_leave_from_eight_until_nine_also_on_the_day_of_the_clock_change(utc: str, allowed: bool) -> None:
    studio = load_studio(Rulebook())
    local = datetime.fromisoformat(utc).replace(tzinfo=UTC).astimezone(studio.tz)
    assert studio.sending_hours.allows(local.time()) is allowed


def test_quiet_hours_are_half_open() -> None:
    hours = QuietHours(time(8), time(21))
    assert [hours.allows(time(7, 59)), hours.allows(time(8)), hours.allows(time(20, 59)), hours.allows(time(21))] == [
        False,
        True,
        True,
        False,
    ]
