"""What a phrase means on a given today."""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.reading import Reader
from assistant.reading.days import Frame, MonthDay, Nth, Numeric
from assistant.reading.weeks import Month, Offset, Weekday

TODAYS = st.dates(date(2020, 1, 1), date(2045, 12, 31))
WEDNESDAY = Frame(date(2027, 3, 10))


@given(TODAYS, st.integers(1, 12), st.integers(1, 28))
def test_a_day_without_a_year_is_the_next_one(today: date, month: int, day: int) -> None:
    found = MonthDay(month, (day,)).resolve(Frame(today))
    assert found.days[0] >= today
    assert (found.days[0] - today).days <= 366
    assert (found.days[0].month, found.days[0].day) == (month, day)


@given(TODAYS, st.integers(1, 12), st.integers(1, 28), st.integers(0, 6))
def test_a_weekday_is_a_condition(today: date, month: int, day: int, weekday: int) -> None:
    found = MonthDay(month, (day,), weekdays=(weekday,)).resolve(Frame(today))
    assert (found.status == "stated") <= (found.only is not None and found.only.weekday() == weekday)


def test_a_day_that_no_month_has_is_impossible_with_its_neighbours() -> None:
    found = MonthDay(6, (31,)).resolve(WEDNESDAY)
    assert (found.status, found.days) == ("impossible", (date(2027, 6, 30), date(2027, 7, 1)))


def test_a_day_of_last_week_is_doubted_not_moved_a_year_in_silence() -> None:
    assert MonthDay(3, (8,)).resolve(WEDNESDAY).status == "past"


def test_a_day_of_last_summer_is_next_summers() -> None:
    assert MonthDay(7, (5,)).resolve(Frame(date(2027, 9, 14))).only == date(2028, 7, 5)


def test_seven_eight_is_read_in_the_order_of_the_place() -> None:
    assert Numeric(7, 8).resolve(Frame(date(2027, 3, 10), day_first=False)).only == date(2027, 7, 8)
    assert Numeric(7, 8).resolve(Frame(date(2027, 3, 10), day_first=True)).only == date(2027, 8, 7)


def test_where_both_orders_are_written_both_are_possible() -> None:
    found = Numeric(7, 8).resolve(Frame(date(2027, 3, 10), day_first=True, order_sure=False))
    assert (found.status, found.days) == ("unclear", (date(2027, 7, 8), date(2027, 8, 7)))


def test_a_weekday_that_speaks_against_the_usual_order_leaves_both_open() -> None:
    found = Numeric(7, 8, weekdays=(5,)).resolve(WEDNESDAY)
    assert (found.status, found.days) == ("unclear", (date(2027, 7, 8), date(2027, 8, 7)))


@given(TODAYS, st.integers(1, 31))
def test_a_bare_day_number_is_never_more_than_likely(today: date, day: int) -> None:
    found = Nth((day,)).resolve(Frame(today))
    assert found.status == "inferred"
    assert found.days[0] >= today


def test_a_weekday_beside_a_day_number_finds_the_month_that_fits() -> None:
    assert Nth((14,), weekdays=(5,)).resolve(Frame(date(2025, 5, 20))).only == date(2025, 6, 14)


@given(TODAYS, st.integers(0, 6))
def test_next_weekday_has_one_meaning_only_when_all_ways_of_counting_agree(today: date, weekday: int) -> None:
    found = Weekday((weekday,), "next").resolve(Frame(today))
    assert all(today < day <= today + timedelta(14) and day.weekday() == weekday for day in found.days)
    assert (found.status == "stated") == (len(found.days) == 1)


def test_on_a_saturday_next_saturday_is_a_week_away() -> None:
    assert Weekday((5,), "next").resolve(Frame(date(2027, 3, 13))).only == date(2027, 3, 20)


@given(TODAYS, st.integers(1, 60))
def test_so_many_days_from_today_is_counted_exactly(today: date, days: int) -> None:
    assert Offset(days).resolve(Frame(today)).only == today + timedelta(days)


@given(TODAYS, st.integers(1, 12))
def test_a_month_alone_is_a_span_of_days_still_ahead(today: date, month: int) -> None:
    found = Month(month).resolve(Frame(today))
    assert found.status == "unclear"
    assert found.days[0] >= today
    assert {day.month for day in found.days} == {month}


def test_a_today_outside_the_calendar_is_refused_with_a_remedy(reader: Reader) -> None:
    with pytest.raises(ValueError, match=r"today: 9999-12-31 .* give"):
        reader.read("june 5", today=date.max)
