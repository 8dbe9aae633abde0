"""Holidays and weeks against the world outside: laws, church calendar, ISO weeks, a reference library."""

from datetime import date, timedelta
from typing import ClassVar

import holidays as reference
import pytest

from assistant.loading.reading import load_reader
from assistant.reading.dates import frame_of
from assistant.reading.days import Frame
from assistant.reading.weeks import Week, Weekend
from assistant.rulebook import Rulebook

READER = load_reader(Rulebook())
YEARS = range(2024, 2041)


def day_of(name: str, year: int, locale: str = "en_US") -> date:
    context = READER.context("", today=date(year, 1, 1), locale=locale)
    days = frame_of(context).holidays(name, date(year, 1, 1), year)
    assert len(days) == 1
    return days[0]


class TestFederalHolidays:
    """5 USC 6103(a), by the `holidays` library; the day itself, not the observed day off."""

    LIBRARY_NAMES: ClassVar = {
        "new_years_day": "New Year's Day",
        "mlk_day": "Martin Luther King Jr. Day",
        "presidents_day": "Washington's Birthday",
        "memorial_day": "Memorial Day",
        "juneteenth": "Juneteenth National Independence Day",
        "independence_day": "Independence Day",
        "labor_day": "Labor Day",
        "columbus_day": "Columbus Day",
        "veterans_day": "Veterans Day",
        "thanksgiving": "Thanksgiving Day",
        "christmas": "Christmas Day",
    }

    @pytest.mark.parametrize("name", list(LIBRARY_NAMES))
    def test_a_federal_holiday_falls_where_the_law_puts_it(self, name: str) -> None:
        library = reference.country_holidays("US", years=YEARS, observed=False)
        for year in YEARS:
            days = [day for day, called in library.items() if self.LIBRARY_NAMES[name] == called and day.year == year]
            assert [day_of(name, year)] == days


def easter_by_meeus(year: int) -> date:
    """Gregorian Easter after Meeus, Astronomical Algorithms (1991), chapter 8; from memory."""
    a, b, c = year % 19, year // 100, year % 100
    d, e = divmod(b, 4)
    g = (8 * b + 13) // 25
    h = (19 * a + b - d - g + 15) % 30
    i, k = divmod(c, 4)
    remainder = (32 + 2 * e + 2 * i - h - k) % 7
    m = (a + 11 * h + 22 * remainder) // 451
    month, day = divmod(h + remainder - 7 * m + 114, 31)
    return date(year, month, day + 1)


def test_easter_follows_the_gregorian_rule() -> None:
    assert [day_of("easter", year) for year in YEARS] == [easter_by_meeus(year) for year in YEARS]


def test_british_bank_holidays_fall_on_the_days_of_the_act() -> None:
    """Banking and Financial Dealings Act 1971 and proclamations, by the `holidays` library (England)."""
    library = reference.country_holidays("GB", subdiv="ENG", years=YEARS)
    for name, called in (("may_bank_holiday", "May Day"), ("spring_bank_holiday", "Spring Bank Holiday")):
        for year in YEARS:
            days = [day for day, title in library.items() if title == called and day.year == year]
            assert [day_of(name, year, "en_GB")] == days
    for year in YEARS:
        assert library.get(day_of("august_bank_holiday", year, "en_GB"), "").startswith("Late Summer")


def test_mothering_sunday_is_three_weeks_before_easter() -> None:
    """Fourth Sunday in Lent; 14 March 2027 would be wrong, 7 March 2027 is right (church calendar)."""
    assert day_of("mothers_day", 2027, "en_GB") == date(2027, 3, 7)


def test_mothers_day_in_the_us_is_the_second_sunday_of_may() -> None:
    """36 USC 117; 2027: 9 May."""
    assert day_of("mothers_day", 2027) == date(2027, 5, 9)


@pytest.mark.parametrize("today", [date(2026, 12, 27), date(2027, 1, 3), date(2028, 12, 31), date(2032, 12, 29)])
def test_next_week_is_the_next_iso_week(today: date) -> None:
    """ISO 8601: weeks start on Monday; the standard library computes their numbers."""
    days = Week(1).resolve(Frame(today)).days
    assert {day.isocalendar()[:2] for day in days} == {(today + timedelta(7)).isocalendar()[:2]}
    assert [day.isoweekday() for day in days] == [1, 2, 3, 4, 5, 6, 7]


@pytest.mark.parametrize("offset", range(7))
def test_this_weekend_is_the_saturday_and_sunday_ahead(offset: int) -> None:
    today = date(2027, 3, 8) + timedelta(offset)
    days = Weekend().resolve(Frame(today)).days
    assert all(day >= today and day.isoweekday() in (6, 7) for day in days)
    assert (days[0] - today).days <= 6
