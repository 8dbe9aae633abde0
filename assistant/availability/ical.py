"""Calendar files (iCalendar, RFC 5545): reads what takes up time, writes what the studio has on."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from assistant.availability.bookings import LONGEST, Booking

MAX_BYTES = 1_000_000
MOST_EVENTS = 20_000
# Rules that repeat within a day can grow a few bytes into millions of events; no studio's diary needs them.
_TOO_OFTEN = ("SECONDLY", "MINUTELY", "HOURLY")
_WITHIN_DAY = ("BYHOUR", "BYMINUTE", "BYSECOND")
# What the calendar library raises on damaged properties; its own errors descend from these.
_FAULTS = (ValueError, TypeError, KeyError, IndexError, AttributeError, ArithmeticError)
PRODUCT = "-//balloon studio assistant//bookings//EN"


@dataclass(frozen=True)
class Busy:
    """One stretch that a calendar takes up, in UTC; ``timed`` is false for whole days."""

    start: datetime
    end: datetime
    title: str
    timed: bool


class CalendarWrong(ValueError):
    """A calendar file that cannot be used; the text says what is wrong and how to mend it."""


@dataclass(frozen=True)
class Entry:
    """One event to be written: times aware, ``uid`` the same for the same event each time it is written."""

    uid: str
    start: datetime
    end: datetime
    summary: str
    place: str = ""
    description: str = ""


def read_calendar(data: bytes, *, since: date, until: date, zone: ZoneInfo, kind: str = "block") -> list[Booking]:
    """Return what a calendar file takes up from ``since`` to ``until``, both included, repetitions written out.

    Cancelled events and those marked as free time are left out. A whole day takes all its hours; times without a
    zone are those of ``zone``. Raises CalendarWrong.
    """
    found = read_busy(data, since=since, until=until, zone=zone)
    return [Booking(start=busy.start, end=busy.end, kind=kind, timed=busy.timed) for busy in found]


def read_busy(data: bytes, *, since: date, until: date, zone: ZoneInfo) -> list[Busy]:
    """Return the same with what each event is called. Raises CalendarWrong."""
    try:
        return sorted(_read(data, since, until, zone), key=lambda busy: (busy.start, busy.end, busy.title))
    except CalendarWrong:
        raise
    except _FAULTS as fault:
        raise CalendarWrong(f"an event cannot be read ({str(fault)[:80]}): export the calendar again") from None


def _read(data: bytes, since: date, until: date, zone: ZoneInfo) -> list[Busy]:
    import recurring_ical_events  # loaded here: it takes longer to import than a verdict takes

    calendar = _parsed(data)
    _check_size(calendar)
    found: list[Busy] = []
    for number, event in enumerate(_instances(recurring_ical_events.of(calendar), since, until)):
        if number >= MOST_EVENTS:
            raise CalendarWrong(f"more than {MOST_EVENTS} events from {since} to {until}: export a shorter time")
        if _takes_time(event):
            found.append(_busy(event, zone))
    return found


def _instances(query: Any, since: date, until: date) -> Iterator[Any]:
    """Yield month by month, so that a calendar without end is given up early; each instance once."""
    seen: set[tuple[str, ...]] = set()
    first = since
    while first <= until:
        after = min(first + timedelta(days=31), until + timedelta(days=1))
        for event in query.between(first, after):
            mark = tuple(str(event.get(name, "")) for name in ("UID", "SUMMARY")) + _times(event)
            if mark not in seen:
                seen.add(mark)
                yield event
        first = after


def write_calendar(entries: Iterable[Entry], *, stamp: datetime) -> bytes:
    """Return a calendar file of ``entries``, times in UTC; ``stamp`` is when it was made."""
    from icalendar import Calendar, Event

    calendar = Calendar()
    calendar.add("PRODID", PRODUCT)
    calendar.add("VERSION", "2.0")
    for entry in entries:
        event = Event()
        event.add("UID", entry.uid)
        event.add("DTSTAMP", stamp.astimezone(UTC))
        event.add("DTSTART", entry.start.astimezone(UTC))
        event.add("DTEND", entry.end.astimezone(UTC))
        event.add("SUMMARY", entry.summary)
        for name, value in (("LOCATION", entry.place), ("DESCRIPTION", entry.description)):
            if value:
                event.add(name, value)
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _parsed(data: bytes) -> Any:
    from icalendar import Calendar

    if len(data) > MAX_BYTES:
        raise CalendarWrong(f"the calendar has {len(data)} bytes: export a shorter time, at most {MAX_BYTES} bytes")
    try:
        calendar = Calendar.from_ical(data)
    except _FAULTS as fault:
        raise CalendarWrong(f"no calendar file ({str(fault)[:80]}): export it as iCalendar (.ics)") from None
    if getattr(calendar, "name", None) != "VCALENDAR":
        raise CalendarWrong("no calendar file (it does not begin with BEGIN:VCALENDAR): export it as iCalendar (.ics)")
    return calendar


def _check_size(calendar: Any) -> None:
    events = calendar.walk("VEVENT")
    if len(events) > MOST_EVENTS:
        raise CalendarWrong(f"the calendar has {len(events)} events: export a shorter time, at most {MOST_EVENTS}")
    for event in events:
        rules = event.get("RRULE") or []
        for rule in rules if isinstance(rules, list) else [rules]:
            often = [str(word) for word in rule.get("FREQ", ())]
            if set(often) & set(_TOO_OFTEN) or any(name in rule for name in _WITHIN_DAY):
                what = f"'{event.get('SUMMARY', '')!s:.40}' repeats within a day ({', '.join(often)})"
                raise CalendarWrong(f"{what}: let it repeat daily or more seldom")


def _takes_time(event: Any) -> bool:
    free = str(event.get("TRANSP", "")).upper() == "TRANSPARENT"
    return not free and str(event.get("STATUS", "")).upper() != "CANCELLED"


def _times(event: Any) -> tuple[str, str]:
    return str(event["DTSTART"].dt), str(event["DTEND"].dt) if "DTEND" in event else ""


def _busy(event: Any, zone: ZoneInfo) -> Busy:
    start, end = event["DTSTART"].dt, event["DTEND"].dt if "DTEND" in event else event["DTSTART"].dt
    timed = isinstance(start, datetime)
    first, last = _instant(start, zone), _instant(end, zone)
    if not timed and last <= first:
        last = _instant(start + timedelta(days=1), zone)
    title = " ".join(str(event.get("SUMMARY", "")).split())[:200]
    return Busy(first, min(max(first, last), first + LONGEST), title, timed)


def _instant(moment: date, zone: ZoneInfo) -> datetime:
    """Return an event's time in UTC; a bare day begins at midnight, a time without a zone is the studio's."""
    if not isinstance(moment, datetime):
        moment = datetime.combine(moment, time(), zone)
    return (moment if moment.tzinfo else moment.replace(tzinfo=zone)).astimezone(UTC)
