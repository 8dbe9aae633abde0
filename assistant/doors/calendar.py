"""The calendar's doors: a private address to subscribe to, and calendars kept elsewhere, fetched and brought in."""

import logging
from collections.abc import Callable

from flask import Blueprint, Flask, Response
from sqlalchemy.exc import SQLAlchemyError

from assistant.doors.calendar_fetch import FetchRefused, fetch
from assistant.flow import calendars
from assistant.runtime import Runtime
from assistant.store import StoreUnavailable
from assistant.store.queries_calendar import sources_of

log = logging.getLogger(__name__)
FEED_PATH = "/calendar/<token>.ics"


def init_calendar(app: Flask, runtime: Runtime) -> None:
    """Register the private feed of the studio's bookings; who has its address can read it, nobody can change it."""
    blueprint = Blueprint("calendar", __name__)

    def feed(token: str) -> Response:
        try:
            text = calendars.feed_text(runtime.flow, token)
        except (StoreUnavailable, SQLAlchemyError) as problem:
            log.warning("the calendar feed could not be read (%s)", type(problem).__name__)
            return Response("The calendar cannot be read now.\n", 503, {"Retry-After": "60"}, mimetype="text/plain")
        if text is None:
            return Response("There is no calendar at this address.\n", 404, mimetype="text/plain")
        response = Response(text, mimetype="text/calendar")
        response.headers["Cache-Control"] = "no-store"
        response.headers["Referrer-Policy"] = "no-referrer"
        response.headers["X-Content-Type-Options"] = "nosniff"
        response.headers["X-Robots-Tag"] = "noindex"
        return response

    blueprint.get(FEED_PATH)(feed)
    app.register_blueprint(blueprint)


def feed_address(public_url: str, token: str) -> str:
    """Return the address to subscribe to."""
    return f"{public_url.rstrip('/')}/calendar/{token}.ics"


def refresh(runtime: Runtime, fetch_bytes: Callable[[str], bytes] = fetch) -> dict[int, str]:
    """Fetch every calendar that has an address and bring it in; return what went wrong, by source.

    A source that fails keeps the blocks it had; the others go on.
    """
    with runtime.store.read() as session:
        addresses = {source.id: source.address for source in sources_of(session, runtime.studio_id) if source.address}
    problems: dict[int, str] = {}
    for source_id, address in addresses.items():
        try:
            data = fetch_bytes(address)
        except FetchRefused as refused:
            problems[source_id] = str(refused)
            calendars.keep_problem(runtime.flow, source_id, str(refused))
            continue
        try:
            calendars.bring_in(runtime.flow, source_id, data)
        except ValueError as wrong:  # what is wrong is kept with the source already
            problems[source_id] = str(wrong)
    return problems
