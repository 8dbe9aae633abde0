"""The calendar as a list of days with how full each is; entries can be added and taken away by hand."""

from dataclasses import dataclass
from datetime import date, timedelta

from flask import Blueprint, Response, abort, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from assistant.availability.bookings import Booking as Taken
from assistant.availability.diary import diary_of
from assistant.availability.load import event_minutes_free
from assistant.desk.audit import note
from assistant.desk.context import the_desk
from assistant.desk.date_form import DateForm, read_booking
from assistant.desk.formats import as_date
from assistant.desk.guard import visitor
from assistant.desk.pages import page
from assistant.store import queries_desk as ask
from assistant.store.models import Booking

_NEAR = timedelta(days=2)  # a build day before the month's first day, a job after its last


@dataclass(frozen=True)
class Day:
    """One day of the list: its entries, the crew's hours taken and free, and why the studio is closed, if it is."""

    day: date
    entries: tuple[Booking, ...]
    taken: float
    whole: float
    closed: str

    @property
    def share(self) -> int:
        """How full the day is, in percent."""
        return min(100, round(100 * self.taken / self.whole)) if self.whole else 100


def add_to(blueprint: Blueprint) -> None:
    """Register the routes."""
    blueprint.add_url_rule("/desk/dates", "dates", dates)
    blueprint.add_url_rule("/desk/dates/add", "add_date", add_date, methods=["POST"])
    path = "/desk/dates/<int(max=2147483647):booking_id>/remove"
    blueprint.add_url_rule(path, "remove_date", remove_date, methods=["POST"])


def dates() -> Response:
    """Show a month."""
    return _show(_month_asked())


def add_date() -> AnyResponse:
    """Put a job or time off into the calendar."""
    desk, who = the_desk(), visitor()
    form = read_booking(request.form, studio_id=who.studio_id, zone=desk.zone, now=desk.now())
    if form.booking is None:
        return _show(_month_of(as_date(form.texts["day"])), form, 400)
    with desk.store.write() as session:
        session.add(form.booking)
        note(session, who, "date added", day=form.booking.day.isoformat(), kind=form.booking.kind)
    return redirect(_back(form.booking.day, "date_added"), 303)


def remove_date(booking_id: int) -> AnyResponse:
    """Take an entry out of the calendar; it stays in the store as ended."""
    desk, who = the_desk(), visitor()
    with desk.store.write() as session:
        claim = ask.claim_of(session, who.studio_id, booking_id) or abort(404)
        claim.ended_at = desk.now()
        note(session, who, "date removed", booking=booking_id, kind=claim.kind)
    return redirect(_back(claim.day, "date_removed"), 303)


def days_of_month(studio_id: int, first: date) -> list[Day]:
    """Return every day of the month that begins on ``first``, in one query."""
    last = next_month(first) - timedelta(days=1)
    with the_desk().store.read() as session:
        claims = ask.claims_between(session, studio_id, first - _NEAR, last + _NEAR)
    rules, today = the_desk().runtime.rooms.calendar, the_desk().today()
    live = [claim for claim in claims if not (claim.expires_at and claim.expires_at <= the_desk().now())]
    diary = diary_of([_taken(claim) for claim in live], rules, today)
    whole = rules.event_minutes / 60
    found = []
    for day in (first + timedelta(days=count) for count in range((last - first).days + 1)):
        taken = whole - event_minutes_free(day, diary, rules) / 60
        entries = tuple(claim for claim in live if claim.day == day)
        found.append(Day(day, entries, taken, whole, rules.closed_why(day)))
    return found


def next_month(first: date) -> date:
    """Return the first day of the month after."""
    return (first + timedelta(days=32)).replace(day=1)


def _taken(claim: Booking) -> Taken:
    return Taken(
        start=claim.start_at,
        end=claim.end_at,
        crew=claim.crew_minutes,
        build=claim.build_minutes,
        zip=claim.zip or "",
        kind=claim.kind,
        expires=claim.expires_at.astimezone(the_desk().zone).date() if claim.expires_at else None,
    )


def _show(first: date, form: DateForm | None = None, status: int = 200) -> Response:
    earliest = the_desk().today().replace(day=1) - timedelta(days=366)
    return page(
        "dates.html",
        status=status,
        first=first,
        title=the_desk().formats.month(first),
        days=days_of_month(visitor().studio_id, first),
        before=_key(first - timedelta(days=1)) if first > earliest else None,
        after=_key(next_month(first)),
        form=form or DateForm({"kind": "job", "day": request.args.get("day", "")[:10]}, {}),
    )


def _month_asked() -> date:
    asked = request.args.get("month")
    if asked is None:
        return _month_of(None)
    found = as_date(f"{asked}-01") if len(asked) == 7 else None
    if found is None or abs(found.year - the_desk().today().year) > 4:
        abort(404)
    return found


def _month_of(day: date | None) -> date:
    return (day or the_desk().today()).replace(day=1)


def _key(day: date) -> str:
    return f"{day:%Y-%m}"


def _back(day: date, said: str) -> str:
    return url_for("desk.dates", month=_key(day), said=said, _anchor=f"d-{day.isoformat()}")
