"""The private feed over the web, and calendars fetched and brought in."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from flask import Flask

from assistant.composition import open_runtime
from assistant.config import Settings
from assistant.doors.calendar import feed_address, init_calendar, refresh
from assistant.doors.calendar_fetch import FetchRefused
from assistant.flow import calendars
from assistant.runtime import Runtime
from assistant.store.queries_calendar import sources_of

CALENDAR = (
    b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//x//EN\r\nBEGIN:VEVENT\r\nUID:1@example.com\r\n"
    b"DTSTAMP:20270301T120000Z\r\nSUMMARY:dentist\r\nDTSTART:20270522T130000Z\r\nDTEND:20270522T150000Z\r\n"
    b"END:VEVENT\r\nEND:VCALENDAR\r\n"
)


@pytest.fixture
def runtime(tmp_path: Path) -> Runtime:
    settings = Settings(database_url=f"sqlite:///{tmp_path / 'store.sqlite'}", secret_key="k" * 64, demo=True)
    return open_runtime(tmp_path, settings=settings, now=lambda: datetime(2027, 3, 1, 15, tzinfo=UTC))


def test_the_feed_answers_its_token_alone_and_nothing_keeps_it(runtime: Runtime) -> None:
    app = Flask("feed")
    init_calendar(app, runtime)
    token = calendars.new_feed(runtime.flow)
    client = app.test_client()
    answer = client.get(f"/calendar/{token}.ics")
    assert (answer.status_code, answer.mimetype) == (200, "text/calendar")
    assert answer.data.startswith(b"BEGIN:VCALENDAR\r\n")
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Referrer-Policy"] == "no-referrer"
    for wrong in ("x", token[:-1], token.upper(), "%00", "..%2f"):
        assert client.get(f"/calendar/{wrong}.ics").status_code == 404
    assert client.post(f"/calendar/{token}.ics").status_code == 405
    assert feed_address("https://studio.example.com/", token).endswith(f"com/calendar/{token}.ics")


def test_calendars_with_an_address_are_fetched_and_a_bad_one_stops_no_other(runtime: Runtime) -> None:
    good = calendars.add_source(runtime.flow, "one", "https://calendar.example.com/one.ics")
    bad = calendars.add_source(runtime.flow, "two", "https://calendar.example.com/two.ics")
    wrong = calendars.add_source(runtime.flow, "three", "https://calendar.example.com/three.ics")
    calendars.add_source(runtime.flow, "a file")

    def fetched(address: str) -> bytes:
        if "two" in address:
            raise FetchRefused("it does not answer")
        return CALENDAR if "one" in address else b"hello"

    problems = refresh(runtime, fetched)
    assert set(problems) == {bad, wrong}
    with runtime.store.read() as session:
        kept = {source.id: (source.read_at is not None, source.problem) for source in sources_of(session, 1)}
    assert kept[good] == (True, None)
    assert kept[bad] == (False, "it does not answer")
    assert "no calendar file" in str(kept[wrong][1])
