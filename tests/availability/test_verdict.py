"""Can we do it: the figures of the trade, and what must hold for every diary."""

from datetime import date, datetime, time, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.availability import Needs, Verdict, judge, read_bookings
from assistant.availability.rules import CalendarRules
from assistant.loading.availability import load_calendar
from assistant.rulebook import Rulebook

RULES = load_calendar(Rulebook())
TODAY = date(2027, 3, 1)
SATURDAY = date(2027, 10, 16)
FREEDOM = ("full", "tight", "open")


def verdict(
    *entries: dict[str, Any],
    day: date = SATURDAY,
    start: time | None = time(15),
    needs: Needs | None = None,
    rules: CalendarRules = RULES,
    place: str = "",
) -> Verdict:
    bookings = read_bookings(list(entries), rules.zone)
    return judge(day, start=start, needs=needs, bookings=bookings, rules=rules, today=TODAY, zip_code=place)


def job(start: str, end: str, hours: float | None = None, day: date = SATURDAY, **more: Any) -> dict[str, Any]:
    return {"start": f"{day}T{start}", "end": f"{day}T{end}", "crew_hours": hours, **more}


def test_an_empty_day_is_open_with_all_its_hours() -> None:
    found = verdict()
    assert (found.verdict, found.crew_hours_free, found.alternates) == ("open", 9.0, ())
    assert "9 of 9" in found.why
    assert "a usual job takes 2.75 and 3" in found.why
    assert "this job takes 1.5 and 2" in verdict(needs=Needs.of(build=2, event_day=1.5, travel=0.25)).why


def test_a_block_of_the_whole_working_day_closes_it_and_a_shorter_one_does_not() -> None:
    assert verdict(job("00:00", "23:59", kind="block")).verdict == "closed"
    assert verdict(job("18:00", "20:00", kind="block")).verdict != "closed"


def test_the_building_day_is_full_first_at_two_reference_jobs() -> None:
    # common practice, no source: three reference jobs fill 8.25 h of the event day, but 9 h of the day before
    one, two = job("08:00", "09:00"), job("18:00", "19:00")
    assert verdict(one).verdict == "open"
    found = verdict(one, two)
    assert found.verdict == "full"
    assert "building hours are the first to run out" in found.why
    assert found.crew_hours_free == 3.5


def test_unknown_hours_count_at_the_default() -> None:
    assert verdict(job("08:00", "09:00")).crew_hours_free == 9 - 2.75
    assert verdict({"start": "2027-10-16"}).crew_hours_free == 9 - 2.75


def test_a_job_longer_than_the_default_counts_with_its_length() -> None:
    assert verdict(job("08:00", "13:00")).crew_hours_free == 4.0


def test_the_event_day_is_full_when_its_hours_are_taken() -> None:
    found = verdict(job("07:00", "09:00", 7))
    assert found.verdict == "full"
    assert "the event day is the first to run out" in found.why
    assert found.crew_hours_free == 2.0


def test_building_for_the_next_day_is_taken_off_this_day() -> None:
    sunday = SATURDAY + timedelta(days=1)
    assert verdict(job("10:00", "12:00", 2.5, day=sunday)).crew_hours_free == 6.0


def test_a_booking_across_midnight_is_shared_by_its_two_days() -> None:
    night = {"start": "2027-10-15T22:00", "end": "2027-10-16T02:00", "crew_hours": 4}
    friday = SATURDAY - timedelta(days=1)
    assert verdict(night).crew_hours_free == 7.0
    assert verdict(night, day=friday).crew_hours_free == 7.0


def test_two_set_ups_at_the_same_hour_need_an_early_one() -> None:
    assert verdict(job("13:30", "15:00", 2)).verdict == "tight"


def test_a_short_way_between_two_jobs_makes_the_day_tight_not_full() -> None:
    # the set-up stands from 13:30 to 14:30; the bare drive is half an hour, with packing and slow roads 68 min
    assert verdict(job("11:30", "12:20", 1)).verdict == "open"
    assert verdict(job("11:30", "12:45", 1)).verdict == "tight"


def test_the_same_zip_needs_a_shorter_way() -> None:
    near = job("11:30", "12:45", 1, zip="10001")
    assert verdict(near, place="10001").verdict == "open"
    assert verdict(near, place="02108").verdict == "tight"


def test_no_hour_left_for_the_set_up_makes_the_day_full() -> None:
    found = verdict(job("09:00", "15:00", 3))
    assert found.verdict == "full"
    assert "no time is left to set up before 15:00" in found.why


def test_little_left_after_the_job_makes_the_day_tight() -> None:
    assert verdict(job("08:00", "10:00", 5.5)).verdict == "tight"
    assert verdict(job("08:00", "10:00", 5.25)).verdict == "open"


def test_a_job_too_big_for_one_person_is_full_even_on_an_empty_day() -> None:
    assert verdict(needs=Needs.of(build=8, event_day=3, travel=0.5)).verdict == "full"


@pytest.mark.parametrize(
    ("ahead", "word"), [(-1, "past"), (0, "too_soon"), (2, "too_soon"), (3, "open"), (731, "closed")]
)
def test_the_day_must_lie_far_enough_ahead(ahead: int, word: str) -> None:
    assert verdict(day=TODAY + timedelta(days=ahead)).verdict == word


def test_an_expired_hold_no_longer_counts_and_a_live_one_does() -> None:
    held = job("08:00", "09:00", 3, kind="hold")
    assert verdict({**held, "expires": "2027-02-27"}).crew_hours_free == 9.0
    assert verdict({**held, "expires": "2027-03-02"}).crew_hours_free == 6.0
    assert "1 of its jobs only held" in verdict(held).why


def test_private_time_takes_hours_and_its_place_in_the_day() -> None:
    found = verdict(job("12:00", "14:00", kind="block"))
    assert found.crew_hours_free == 7.0
    assert found.verdict == "tight"  # the set-up right before the guests is no longer possible
    assert verdict(job("08:00", "22:00", kind="block")).verdict == "full"


def test_bookings_with_an_offset_are_the_same_instant() -> None:
    local = verdict(job("09:00", "11:00", 2))
    assert verdict({"start": "2027-10-16T13:00Z", "end": "2027-10-16T15:00+00:00", "crew_hours": 2}) == local
    assert (
        verdict({"start": "2027-10-17T03:59:00Z", "end": "2027-10-17T04:00:00Z", "crew_hours": 2}).crew_hours_free == 7
    )


def test_the_alternates_are_the_nearest_open_days_the_later_first() -> None:
    full = [job("08:00", "09:00"), job("18:00", "19:00")]
    assert verdict(*full).alternates == tuple(date(2027, 10, n) for n in (17, 18, 14))


# What must hold for any diary.

moments = st.datetimes(datetime(2027, 10, 12), datetime(2027, 10, 20)).map(lambda m: m.replace(second=0, microsecond=0))
entries = st.builds(
    lambda begin, length, hours, kind, zip_code: {
        "start": begin.isoformat(),
        "end": (begin + timedelta(minutes=length)).isoformat(),
        "crew_hours": hours,
        "kind": kind,
        "zip": zip_code,
    },
    moments,
    st.integers(0, 900),
    st.one_of(st.none(), st.integers(0, 40).map(lambda quarter: quarter / 4)),
    st.sampled_from(["job", "job", "hold", "block"]),
    st.sampled_from(["", "10001", "02108"]),
)
starts = st.one_of(st.none(), st.times().map(lambda t: t.replace(second=0, microsecond=0)))
jobs = st.builds(
    lambda build, site, travel: Needs.of(build=build, event_day=site + 2 * travel, travel=travel),
    *(st.integers(0, 16).map(lambda quarter: quarter / 4) for _ in range(3)),
)


@settings(max_examples=150, deadline=None)
@given(st.lists(entries, max_size=6), entries, starts, jobs)
def test_one_more_booking_never_makes_a_day_freer(
    some: list[dict[str, Any]], more: dict[str, Any], start: time | None, needs: Needs
) -> None:
    before = verdict(*some, start=start, needs=needs)
    after = verdict(*some, more, start=start, needs=needs)
    assert FREEDOM.index(after.verdict) <= FREEDOM.index(before.verdict)
    assert after.crew_hours_free <= before.crew_hours_free


@settings(max_examples=100, deadline=None)
@given(st.lists(entries, max_size=8), starts, jobs, st.integers(-2, 8))
def test_every_alternate_is_open_for_that_very_job(
    some: list[dict[str, Any]], start: time | None, needs: Needs, shift: int
) -> None:
    day = SATURDAY + timedelta(days=shift)
    found = verdict(*some, day=day, start=start, needs=needs)
    distances = [abs((other - day).days) for other in found.alternates]
    assert distances == sorted(distances)
    assert len(set(found.alternates) - {day}) == len(found.alternates) <= 3
    for other in found.alternates:
        assert verdict(*some, day=other, start=start, needs=needs).verdict == "open"


@settings(max_examples=100, deadline=None)
@given(st.lists(entries, max_size=6), jobs)
def test_a_job_that_takes_no_more_never_meets_a_worse_verdict(some: list[dict[str, Any]], needs: Needs) -> None:
    less = Needs(needs.build // 2, needs.event_day // 2, needs.travel, needs.on_site // 2)
    assert FREEDOM.index(verdict(*some, needs=less).verdict) >= FREEDOM.index(verdict(*some, needs=needs).verdict)


@settings(max_examples=60, deadline=None)
@given(st.lists(entries, max_size=5), starts, st.randoms(use_true_random=False))
def test_the_order_of_the_bookings_does_not_matter(some: list[dict[str, Any]], start: time | None, draw: Any) -> None:
    mixed = list(some)
    draw.shuffle(mixed)
    assert verdict(*mixed, start=start) == verdict(*some, start=start)
