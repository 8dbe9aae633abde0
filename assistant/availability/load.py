"""Hours of one day: what the rules give, what is taken, and what a job would leave."""

from dataclasses import dataclass
from datetime import date, timedelta

from assistant.availability.diary import Diary
from assistant.availability.needs import Needs
from assistant.availability.rules import CalendarRules


@dataclass(frozen=True)
class Room:
    """Minutes free on the event day and on the best day for building, before the job is put in."""

    event: int
    build: int
    build_day: date


def event_minutes_free(day: date, diary: Diary, rules: CalendarRules) -> int:
    """Return the crew minutes still free on ``day``: events there, and building for the day after, are taken off."""
    return max(0, rules.event_minutes - _taken(day, diary, rules))


def room_of(day: date, diary: Diary, rules: CalendarRules, today: date | None = None) -> Room:
    """Return what is free for a job on ``day``; the building day is the freest of those allowed before it.

    Nothing can be built before ``today``.
    """
    before = [day - timedelta(days=n) for n in range(1, rules.file.build_up_to_days_before + 1)]

    def free_on(other: date) -> int:
        return 0 if today and other < today else _build_minutes_free(other, diary, rules)

    free, best = max((free_on(other), other) for other in before)
    return Room(event_minutes_free(day, diary, rules), free, best)


def leaves(room: Room, needs: Needs) -> tuple[int, int]:
    """Return the minutes left on the event day and on the building day once the job is in; negative if it won't fit."""
    return room.event - needs.event_day, room.build - needs.build


def _taken(day: date, diary: Diary, rules: CalendarRules) -> int:
    return diary.crew[day] + diary.build[day] + diary.private[day] * rules.file.crew


def _build_minutes_free(day: date, diary: Diary, rules: CalendarRules) -> int:
    """Building has its own ceiling, and shares the crew's day with the events there."""
    if rules.closed_why(day):
        return 0
    building = diary.build[day] + diary.private[day] * rules.file.crew
    return max(0, min(rules.build_minutes - building, rules.event_minutes - _taken(day, diary, rules)))
