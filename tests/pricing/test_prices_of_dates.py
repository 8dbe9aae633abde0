"""What a day adds: the nth weekday of a month, overlapping days, and times of the night."""

import calendar
from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.pricing.dates import WEEKDAYS, DatePrice, Peak, Rush, date_price, minutes_of_night
from tests.pricing.jobs import TODAY, book

RATES = replace(book().prices.dates, rush=[], peaks=[])
DAY = date(2027, 10, 16)


@settings(max_examples=60, deadline=None)
@given(st.integers(2025, 2040), st.integers(1, 12), st.integers(0, 6), st.integers(1, 4))
def test_the_nth_weekday_is_the_calendars(year, month, weekday, nth):
    """Against the standard library's month calendar."""
    days = [week[weekday] for week in calendar.monthcalendar(year, month) if week[weekday]]
    peak = Peak("a day", Decimal("0.1"), month=month, nth=nth, weekday=WEEKDAYS[weekday])
    held = [day for day in range(1, calendar.monthrange(year, month)[1] + 1) if peak.holds(date(year, month, day))]
    assert held == [days[nth - 1]]


def test_days_before_an_nth_weekday_count_up_to_it():
    """Thanksgiving 2027, the fourth Thursday of November (5 U.S.C. 6103), is the 25th."""
    peak = Peak("Thanksgiving", Decimal("0.1"), month=11, nth=4, weekday="thursday", days_before=2)
    assert [day for day in range(20, 30) if peak.holds(date(2027, 11, day))] == [23, 24, 25]


def test_of_several_rows_the_dearest_counts_and_of_equals_the_first():
    rows = [("0.10", "10-01"), ("0.20", "10-10"), ("0.20", "10-15")]
    peaks = [Peak(f"from {first}", Decimal(share), first=first, last="10-31") for share, first in rows]
    found = date_price(DAY, TODAY, replace(RATES, peaks=peaks))
    assert (found.peak, found.peak_row) == (Decimal("0.20"), 1)
    rush = [Rush(300, Decimal("0.05"), Decimal(10)), Rush(250, Decimal("0.15"), Decimal(20))]
    found = date_price(DAY, TODAY, replace(RATES, rush=rush))
    assert (found.rush, found.rush_least, found.rush_row) == (Decimal("0.15"), 20, 1)


def test_an_ordinary_day_adds_nothing():
    assert date_price(DAY, TODAY, RATES) == DatePrice(Decimal(0), Decimal(0), Decimal(0), -1, -1)


@pytest.mark.parametrize("named", [{"month": 5}, {"month": 5, "nth": 2}, {"nth": 2, "weekday": "sunday"}])
def test_a_row_that_names_half_a_weekday_is_refused(named):
    with pytest.raises(ValueError, match="names no days"):
        Peak("half", Decimal("0.1"), **named)


@pytest.mark.parametrize(
    ("clock", "minutes"), [("06:00", 360), ("21:30", 1290), ("23:59", 1439), ("00:00", 1440), ("05:59", 1799)]
)
def test_six_in_the_morning_ends_the_night(clock, minutes):
    assert minutes_of_night(clock) == minutes
