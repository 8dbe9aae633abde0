"""Days that lean on a day spoken of before: "the 12th" after "June 5", "that Saturday"."""

from dataclasses import replace
from datetime import date

from assistant.reading.context import Context
from assistant.reading.date_candidate import Candidate
from assistant.reading.days import (
    STATED,
    UNCLEAR,
    Frame,
    MonthDay,
    Nth,
    Numeric,
    Resolved,
    coming,
    shift,
)
from assistant.reading.holidays import Holiday
from assistant.reading.weeks import Month, NthWeekday, Weekday


def in_their_months(found: list[Candidate], frame: Frame) -> list[Candidate]:
    """Read "the 12th" after "June 5" in June: a day without a month belongs to the month spoken of before it."""
    month: tuple[int, int] | None = None
    done: list[Candidate] = []
    for one in found:
        if isinstance(one.phrase, Nth | NthWeekday) and month is not None:
            inside = one.phrase.resolve(replace(frame, month=month))
            fits = inside.days and inside.status in (STATED, UNCLEAR)
            one = replace(one, days=inside) if fits else one
        elif isinstance(one.phrase, MonthDay | Numeric | Month | Holiday) and one.days.days and one.role.name != "past":
            month = (one.days.days[0].year, one.days.days[0].month)
        done.append(one)
    return done


def beside_earlier(found: list[Candidate], context: Context) -> list[Candidate]:
    """Read "that Saturday" beside the day spoken of before it, whatever happens on that day."""
    day: date | None = None
    days_before: tuple[date, ...] = ()
    done: list[Candidate] = []
    for one in found:
        phrase = one.phrase
        if not isinstance(phrase, Weekday):
            if one.role.name != "past":
                day, days_before = one.days.only or day, one.days.days
            done.append(one)
            continue
        pointed = context.fold(one.node.first - 1) in ("that", "the", "ese")
        beside_it = _among(phrase, days_before) or (_around(phrase, day) if day is not None and pointed else None)
        done.append(replace(one, days=beside_it) if beside_it else one)
    return done


def _among(phrase: Weekday, days: tuple[date, ...]) -> Resolved | None:
    """Return the one of several days spoken of that falls on the weekday."""
    fitting = tuple(day for day in days if day.weekday() in phrase.weekdays)
    if len(days) < 2 or not fitting or phrase.which:
        return None
    if len(fitting) > 1:
        return Resolved(UNCLEAR, fitting, "some of the days spoken of")
    return Resolved(STATED, fitting, "one of the days spoken of")


def _around(phrase: Weekday, day: date) -> Resolved:
    """Return the day itself if it falls on the weekday, else the nearest such days before and after it."""
    after = coming(shift(day, -1), phrase.weekdays[0])
    if after == day:
        return Resolved(STATED, (day,), "the weekday of the day spoken of")
    return Resolved(UNCLEAR, (shift(after, -7), after), "beside the day spoken of")
