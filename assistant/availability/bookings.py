"""Bookings as they come in: ISO times with or without an offset, checked field by field."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from difflib import get_close_matches
from typing import Any

KINDS = ("job", "hold", "block")
LONGEST = timedelta(days=366)
FIELDS = ("start", "end", "crew_hours", "build_hours", "build_on", "zip", "kind", "expires", "takes", "strike", "id")


@dataclass(frozen=True)
class Booking:
    """One entry of the calendar, times in UTC.

    ``crew`` is the crew's minutes on the event day, ``build`` those of building before it; None counts at the
    default job's. ``timed`` is false when only the day is known. A hold counts until the day it expires; a block is
    time that is not for work. ``build_on`` is the day it is built on, the day before if None; ``strike`` is when its
    take-down begins; ``takes`` counts the resources it needs, the default job's if None.
    """

    start: datetime
    end: datetime
    crew: int | None = None
    build: int | None = None
    zip: str = ""
    kind: str = "job"
    timed: bool = True
    expires: date | None = None
    build_on: date | None = None
    strike: datetime | None = None
    takes: Mapping[str, int] | None = None


class BookingWrong(ValueError):
    """A booking that cannot be read; the text names the field and the remedy."""


def read_bookings(entries: Any, zone: tzinfo, where: str = "bookings") -> list[Booking]:
    """Return the bookings of a JSON list; times without an offset are those of ``zone``."""
    if entries is None:
        return []
    if not isinstance(entries, list):
        raise BookingWrong(f'{where}: a list is needed, not {entries!r:.40}: write [{{"start": ..., "end": ...}}]')
    return [read_booking(entry, zone, f"{where}[{index}]") for index, entry in enumerate(entries)]


def read_booking(entry: Any, zone: tzinfo, where: str = "booking") -> Booking:
    """Return one booking; raises BookingWrong naming the field under ``where``."""
    if not isinstance(entry, Mapping):
        raise BookingWrong(f"{where}: an object is needed, not {entry!r:.40}: give start and end")
    check_keys(entry, FIELDS, f"{where}.")
    start, timed = _moment(entry.get("start"), zone, f"{where}.start")
    end = _end(entry.get("end"), start, timed, zone, where)
    kind = entry.get("kind") or "job"
    if kind not in KINDS:
        raise BookingWrong(f"{where}.kind: '{kind}' is not known: give one of {', '.join(KINDS)}")
    return Booking(
        start=start,
        end=end,
        crew=_minutes(entry.get("crew_hours"), f"{where}.crew_hours"),
        build=_minutes(entry.get("build_hours"), f"{where}.build_hours"),
        zip=str(entry.get("zip") or ""),
        kind=kind,
        timed=timed and entry.get("end") is not None,
        expires=read_day(entry["expires"], f"{where}.expires") if entry.get("expires") else None,
        build_on=read_day(entry["build_on"], f"{where}.build_on") if entry.get("build_on") else None,
        strike=_moment(entry["strike"], zone, f"{where}.strike")[0] if entry.get("strike") else None,
        takes=_takes(entry.get("takes"), f"{where}.takes"),
    )


def check_keys(entry: Mapping[str, Any], known: tuple[str, ...], where: str = "") -> None:
    """Refuse a key that looks like a slip of a known one; others are left alone, they may serve another program."""
    for key in entry:
        near = [] if key in known else get_close_matches(str(key), known, n=1, cutoff=0.75)
        if near:
            raise BookingWrong(f"{where}{key}: this key is not known: did you mean '{near[0]}'?")


def _end(value: Any, start: datetime, timed: bool, zone: tzinfo, where: str) -> datetime:
    if value is None:
        return start if timed else _next_midnight(start, zone)
    end, end_timed = _moment(value, zone, f"{where}.end")
    if not end_timed and not timed and end == start:  # one whole day, written as the same day twice
        end = _next_midnight(end, zone)
    if end - start > LONGEST:
        raise BookingWrong(f"{where}.end: {value} is more than {LONGEST.days} days after the start: split the booking")
    if end < start:
        raise BookingWrong(f"{where}.end: {value} lies before the start: give a later time")
    return end


def _moment(value: Any, zone: tzinfo, where: str) -> tuple[datetime, bool]:
    """Return the instant in UTC, and whether it came with a time of day."""
    if not isinstance(value, str):
        raise BookingWrong(f"{where}: a time is needed, not {value!r:.40}: write it like 2027-10-16T09:00")
    try:
        moment = datetime.fromisoformat(value)
    except ValueError:
        raise BookingWrong(f"{where}: '{value:.40}' is no time: write it like 2027-10-16T09:00") from None
    if not 1970 <= moment.year <= 2200:
        raise BookingWrong(f"{where}: the year {moment.year} is out of reach: give one from 1970 to 2200")
    timed = len(value.strip()) > len("2027-10-16")
    return (moment if moment.tzinfo else moment.replace(tzinfo=zone)).astimezone(UTC), timed


def _next_midnight(start: datetime, zone: tzinfo) -> datetime:
    day = start.astimezone(zone).date() + timedelta(days=1)
    return datetime.combine(day, time(), zone).astimezone(UTC)


def _minutes(value: Any, where: str) -> int | None:
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise BookingWrong(f"{where}: {value!r:.40} is no number of hours: write it like 2.5, or leave it out")
    if not 0 <= value <= 1000:
        raise BookingWrong(f"{where}: {value} is not between 0 and 1000 hours: give the crew's hours on the day")
    return math.ceil(round(value * 60, 6))


def _takes(value: Any, where: str) -> dict[str, int] | None:
    if value is None:
        return None
    if not isinstance(value, Mapping):
        raise BookingWrong(f'{where}: an object is needed, not {value!r:.40}: write {{"hoop": 1}}, or leave it out')
    for name, count in value.items():
        if isinstance(count, bool) or not isinstance(count, int) or not 0 <= count <= 10_000:
            raise BookingWrong(f"{where}.{name}: {count!r:.40} is not between 0 and 10000: give a whole number")
    return {str(name): count for name, count in value.items()}


def read_day(value: Any, where: str) -> date:
    """Return an ISO day; raises BookingWrong naming ``where``."""
    try:
        if not isinstance(value, str):
            raise ValueError
        day = date.fromisoformat(value)
    except ValueError:
        raise BookingWrong(f"{where}: {value!r:.40} is no day: write it like 2027-10-16") from None
    if not 1970 <= day.year <= 2200:
        raise BookingWrong(f"{where}: the year {day.year} is out of reach: give one from 1970 to 2200")
    return day


def read_time(value: Any, where: str) -> time | None:
    """Return a time of day such as 15:00, or None when there is none."""
    if value is None or value == "":
        return None
    try:
        if not isinstance(value, str):
            raise ValueError
        clock = time.fromisoformat(value)
    except ValueError:
        raise BookingWrong(f"{where}: {value!r:.40} is no time of day: write it like 15:00") from None
    if clock.tzinfo is not None:
        raise BookingWrong(f"{where}: {value} bears an offset: give the studio's local time, like 15:00")
    return clock


def zip_in(place: Any) -> str:
    """Return the five-figure ZIP in a place, the last one if there are several; US addresses end with it."""
    words = str(place or "").replace(",", " ").split()
    return next((word for word in reversed(words) if len(word) == 5 and word.isdecimal()), "")
