"""No day is sold beyond the crew's hours: checked by adding the hours up again, another way than the program does."""

from collections import defaultdict
from datetime import date, time, timedelta
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.availability import Needs, judge, read_bookings
from assistant.loading.availability import load_calendar
from assistant.rulebook import Rulebook

RULES = load_calendar(Rulebook())
TODAY, FRIDAY = date(2027, 3, 1), date(2027, 10, 15)

# Bookings of one day each, hours in quarters: (day after Friday 15 October, hour of start, event hours, build hours).
jobs = st.lists(st.tuples(st.integers(0, 4), st.integers(7, 19), st.integers(0, 24), st.integers(0, 20)), max_size=8)
needs = st.builds(
    lambda build, site: Needs.of(build=build / 4, event_day=site / 4 + 1, travel=0.5),
    st.integers(0, 30),
    st.integers(0, 24),
)


def entry(day: int, hour: int, crew: int, build: int) -> dict[str, Any]:
    start = f"{FRIDAY + timedelta(days=day)}T{hour:02}"
    return {"start": f"{start}:00", "end": f"{start}:45", "crew_hours": crew / 4, "build_hours": build / 4}


def hours_by_day(
    some: list[tuple[int, int, int, int]], mine: Needs, day: date
) -> tuple[dict[date, float], dict[date, float]]:
    """All hours of each day and its building hours, our own job in it."""
    whole: dict[date, float] = defaultdict(float)
    building: dict[date, float] = defaultdict(float)
    work = [(FRIDAY + timedelta(days=after), crew / 4, build / 4) for after, _, crew, build in some]
    for on, crew, build in [*work, (day, mine.event_day / 60, mine.build / 60)]:
        whole[on] += crew
        whole[on - timedelta(days=1)] += build
        building[on - timedelta(days=1)] += build
    return whole, building


@settings(max_examples=250, deadline=None)
@given(jobs, needs, st.integers(0, 4), st.sampled_from([None, time(11), time(15), time(19)]))
def test_a_day_that_is_not_full_can_take_the_job_within_both_ceilings(
    some: list[tuple[int, int, int, int]], mine: Needs, after: int, start: time | None
) -> None:
    day = FRIDAY + timedelta(days=after)
    bookings = read_bookings([entry(*job) for job in some], RULES.zone)
    found = judge(day, start=start, needs=mine, bookings=bookings, rules=RULES, today=TODAY)
    whole, building = hours_by_day(some, mine, day)
    before = day - timedelta(days=1)
    fits = whole[day] <= 9 and (mine.build == 0 or (whole[before] <= 9 and building[before] <= 7))
    if found.verdict != "full":
        assert fits
        assert sum(on == after for on, *_ in some) < 3
    elif fits:  # then it is the number of jobs or the time of day that is full
        assert "no time is left" in found.why or "a day" in found.why
