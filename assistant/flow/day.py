"""Asks the calendar whether an inquiry's day can be done, with the bookings that stand in the store now."""

from dataclasses import dataclass
from datetime import date, time, timedelta
from decimal import Decimal
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from assistant.availability import Booking as Claim
from assistant.availability import CalendarRules, Needs, needs_of_quote, zip_in
from assistant.availability.diary import diary_of, midnight
from assistant.availability.job import Job
from assistant.availability.judging import Finding, judge_day
from assistant.availability.planning import shorter
from assistant.availability.verdict import verdict_on
from assistant.flow.reread import priced
from assistant.flow.rooms import Rooms
from assistant.store.models import Inquiry
from assistant.store.queries_calendar import ClaimRow, claims_near


@dataclass(frozen=True)
class Placed:
    """An inquiry's job on its day: what it takes, and what the calendar finds."""

    day: date
    job: Job
    found: Finding

    def verdict(self) -> dict[str, Any]:
        """Return the verdict as `assistant dates` prints it."""
        return verdict_on(self.found, self.day, self.job).to_json()


def day_verdict(
    session: Session, rooms: Rooms, inquiry: Inquiry, facts: dict[str, Any], quote: dict[str, Any] | None, today: date
) -> dict[str, Any] | None:
    """Return the verdict as `assistant dates` prints it, or None while no one day is known."""
    placed = place(session, rooms, inquiry, facts, quote, today)
    return placed.verdict() if placed else None


def place(
    session: Session, rooms: Rooms, inquiry: Inquiry, facts: dict[str, Any], quote: dict[str, Any] | None, today: date
) -> Placed | None:
    """Look at the inquiry's day among all other claims; None while no one day is known.

    Holds that ran out must have been released before. A day that is open needs only the claims near it.
    """
    known = known_value(facts, "event_date")
    if known is None:
        return None
    day = date.fromisoformat(known)
    found = _on(session, rooms, inquiry, facts, quote, today, day, reach=_near(rooms.calendar))
    if found.found.word == "open":
        return found
    reach = _near(rooms.calendar) + rooms.calendar.file.alternates.within_days
    return _on(session, rooms, inquiry, facts, quote, today, day, reach=reach)


def known_value(facts: dict[str, Any], name: str) -> Any:
    """Return a fact's one value, or None where it is open; a bare value is one that was set by hand."""
    fact = facts.get(name)
    if not isinstance(fact, dict):
        return fact if isinstance(fact, str) else None
    return fact.get("value") if fact.get("status") in ("stated", "inferred", "set") else None


def _on(
    session: Session,
    rooms: Rooms,
    inquiry: Inquiry,
    facts: dict[str, Any],
    quote: dict[str, Any] | None,
    today: date,
    day: date,
    *,
    reach: int,
) -> Placed:
    rows = claims_near(session, inquiry, day - timedelta(days=reach), day + timedelta(days=reach))
    pieces = facts.get("pieces") or []
    needs = needs_of_quote(quote, pieces, rooms.calendar) if quote else None

    def smaller(share: Decimal) -> Needs | None:
        less = {**facts, "pieces": shorter(pieces, share)}
        cut = priced(rooms, less, today).quote
        return needs_of_quote(cut, less["pieces"], rooms.calendar) if cut else None

    job = Job(
        needs=needs or rooms.calendar.file.default_job.needs,
        diary=diary_of(map(_claim, rows), rooms.calendar, today),
        rules=rooms.calendar,
        today=today,
        start=_clock(facts, "event_time"),
        zip=zip_in(known_value(facts, "place")),
        usual=needs is None,
        access_from=_clock(facts, "access_from"),
        occasion=known_value(facts, "occasion") or "",
        setting=known_value(facts, "setting") or "",
        pieces=pieces,
        smaller=smaller if needs else None,
    )
    return Placed(day, job, judge_day(day, job))


def _near(rules: CalendarRules) -> int:
    """Return how many days away a claim can still matter: built for, away with things, or a night before."""
    away = max((resource.away_days for resource in rules.file.resources.values()), default=1)
    return rules.file.build_up_to_days_before + away + 1


def _clock(facts: dict[str, Any], name: str) -> time | None:
    known = known_value(facts, name)
    return time.fromisoformat(known) if known else None


def _claim(row: ClaimRow) -> Claim:
    return Claim(
        start=row.start_at,
        end=row.end_at,
        crew=row.crew_minutes,
        build=row.build_minutes,
        zip=row.zip or "",
        kind=row.kind,
        timed=row.kind == "block" or not _is_whole_day(row),
        build_on=row.build_on,
        strike=row.strike_at,
        takes=row.takes,
    )


def _is_whole_day(row: ClaimRow) -> bool:
    """A job entered for the whole day has no known time of day; it takes its hours, not every hour."""
    zone = ZoneInfo(row.zone)
    return row.start_at == midnight(row.day, zone) and row.end_at == midnight(row.day + timedelta(days=1), zone)
