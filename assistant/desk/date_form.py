"""A booking, a hold or a block as typed by hand."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from typing import TypeVar
from zoneinfo import ZoneInfo

from assistant.desk.fact_fields import BadField, read_span, short_text
from assistant.store.models import Booking

T = TypeVar("T")
KINDS = ("job", "block")
FIELDS = ("kind", "title", "day", "start", "end", "crew_hours", "build_hours", "zip")
_YEARS = 3


@dataclass(frozen=True)
class DateForm:
    """The form as typed, and the messages by field."""

    texts: dict[str, str]
    problems: dict[str, str]
    booking: Booking | None = None


def read_booking(form: Mapping[str, str], *, studio_id: int, zone: ZoneInfo, now: datetime) -> DateForm:
    """Return the booking that a form describes, or what is wrong beside which field."""
    texts = {name: form.get(name, "").strip()[:300] for name in FIELDS}
    problems: dict[str, str] = {}
    today = now.astimezone(zone).date()
    title = _tried(problems, "title", lambda: _title(texts)) or ""
    day = _tried(problems, "day", lambda: _day(texts, today))
    start = _tried(problems, "start", lambda: _clock(texts, "start", time(0)))
    end = _tried(problems, "end", lambda: _end(texts, start))
    crew = _tried(problems, "crew_hours", lambda: _minutes(texts["crew_hours"]))
    build = _tried(problems, "build_hours", lambda: _minutes(texts["build_hours"]))
    place = _tried(problems, "zip", lambda: short_text(texts, "zip", 10)) or None
    if texts["kind"] not in KINDS:
        problems["kind"] = "choose a job or time off"
    if problems or day is None or start is None:
        return DateForm(texts, problems)
    begins = datetime.combine(day, start, zone)
    ends = datetime.combine(day, end, zone) if end else datetime.combine(day + timedelta(days=1), time(0), zone)
    booking = Booking(
        studio_id=studio_id,
        kind=texts["kind"],
        title=title,
        day=day,
        start_at=begins.astimezone(UTC),
        end_at=ends.astimezone(UTC),
        zone=zone.key,
        crew_minutes=crew if texts["kind"] == "job" else None,
        build_minutes=build if texts["kind"] == "job" else None,
        zip=place,
        created_at=now,
    )
    return DateForm(texts, problems, booking)


def _tried(problems: dict[str, str], name: str, read: Callable[[], T]) -> T | None:
    try:
        return read()
    except BadField as problem:
        problems[name] = str(problem)
        return None


def _title(texts: Mapping[str, str]) -> str:
    title = short_text(texts, "title", 200)
    if not title:
        raise BadField("say what it is, in a few words")
    return title


def _day(texts: Mapping[str, str], today: date) -> date:
    try:
        day = date.fromisoformat(texts["day"])
    except ValueError:
        raise BadField("this is no day: choose it, or write it as 2027-10-16") from None
    if not today - timedelta(days=366) <= day <= today + timedelta(days=366 * _YEARS):
        raise BadField(f"give a day within {_YEARS} years from today, or within the last one")
    return day


def _clock(texts: Mapping[str, str], name: str, empty: time | None) -> time | None:
    if not texts[name]:
        return empty
    try:
        return time.fromisoformat(texts[name]).replace(tzinfo=None)
    except ValueError:
        raise BadField("this is no time of day: write it as 15:00") from None


def _end(texts: Mapping[str, str], start: time | None) -> time | None:
    """Return the end; None is midnight, the end of the whole day."""
    end = _clock(texts, "end", None)
    if end is None and texts["start"] and texts["kind"] == "job":
        raise BadField("say when it ends")
    if end is not None and start is not None and end <= start:
        raise BadField("it ends before it starts: give a later time; what runs past midnight is two entries")
    return end


def _minutes(text: str) -> int | None:
    hours = read_span(text, 100)
    if hours and hours[0] != hours[1]:
        raise BadField("write one number of hours, such as 4.5")
    return round(hours[0] * 60) if hours else None
