"""What a job takes, from its hours by task."""

import pytest

from assistant.availability import Needs, needs_of_hours


def test_the_reference_job_takes_three_hours_before_and_two_and_three_quarters_on_the_day() -> None:
    # common practice, no source: load .5, drive 1, install 1, buffer .25 of a 14 ft garland 20 miles away
    hours = {"talk": 1.0, "shop": 0.75, "build": 3.0, "load": 0.5, "drive": 1.0, "install": 1.0, "strike": 0}
    assert needs_of_hours(hours) == Needs(build=180, event_day=165, travel=30, on_site=60)


def test_a_take_down_is_a_second_round_trip_on_the_same_day() -> None:
    hours = {"build": 3.0, "load": 0.5, "drive": 2.0, "install": 1.0, "strike": 0.5}
    assert needs_of_hours(hours) == Needs(build=180, event_day=255, travel=30, on_site=60, strike=30)


def test_minutes_are_rounded_up_and_floats_do_not_drift() -> None:
    assert Needs.of(build=0.1 + 0.2, event_day=2.75, travel=0.5) == Needs(19, 165, 30, 105)


def test_a_job_cannot_take_less_than_no_time() -> None:
    with pytest.raises(ValueError, match="less than no time"):
        Needs.of(build=-1, event_day=2, travel=0)
