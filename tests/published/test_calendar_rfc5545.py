"""RFC 5545 (iCalendar): worked examples of repetition rules, folding, escapes and moved instances."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.availability.ical import Entry, read_busy, write_calendar

ZONE = ZoneInfo("America/New_York")
STAMP = datetime(2026, 5, 24, 14, 30, tzinfo=UTC)


def calendar(*events: str) -> bytes:
    body = "".join(f"BEGIN:VEVENT\nDTSTAMP:19970714T170000Z\n{event}\nEND:VEVENT\n" for event in events)
    return f"BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//x//EN\n{body}END:VCALENDAR\n".replace("\n", "\r\n").encode()


def days(data: bytes, since: str, until: str) -> list[str]:
    found = read_busy(data, since=date.fromisoformat(since), until=date.fromisoformat(until), zone=ZONE)
    return [busy.start.astimezone(ZONE).date().isoformat() for busy in found]


# RFC 5545 section 3.8.5.3, 09:00 in New York; others of these examples stand in tests/availability.
@pytest.mark.parametrize(
    ("start", "rule", "until", "expected"),
    [
        (
            "19970905",
            "FREQ=MONTHLY;COUNT=10;BYDAY=1FR",
            "1998-12-31",
            "1997-09-05 1997-10-03 1997-11-07 1997-12-05 1998-01-02 1998-02-06 1998-03-06 1998-04-03 1998-05-01 "
            "1998-06-05",
        ),
        (
            "19970930",
            "FREQ=MONTHLY;COUNT=10;BYMONTHDAY=1,-1",
            "1998-12-31",
            "1997-09-30 1997-10-01 1997-10-31 1997-11-01 1997-11-30 1997-12-01 1997-12-31 1998-01-01 1998-01-31 "
            "1998-02-01",
        ),
        (
            "19970902",
            "FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13\nEXDATE;TZID=America/New_York:19970902T090000",
            "2001-04-30",
            "1998-02-13 1998-03-13 1998-11-13 1999-08-13 2000-10-13 2001-04-13",
        ),
        (
            "19970929",
            "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",
            "1998-03-31",
            "1997-09-29 1997-10-30 1997-11-27 1997-12-30 1998-01-29 1998-02-26 1998-03-30",
        ),
    ],
)
def test_repetitions_fall_on_the_printed_days(start: str, rule: str, until: str, expected: str) -> None:
    event = f"UID:a@example.com\nDTSTART;TZID=America/New_York:{start}T090000\nDURATION:PT1H\nRRULE:{rule}"
    assert days(calendar(event), "1997-01-01", until) == expected.split()


def test_a_moved_instance_takes_its_new_time_and_a_cancelled_one_none() -> None:
    # RFC 5545 section 3.8.4.4 (RECURRENCE-ID names the instance as it stood), 3.8.1.11 (STATUS:CANCELLED)
    series = "UID:s@example.com\nDTSTART:20271004T130000Z\nDTEND:20271004T140000Z\nRRULE:FREQ=WEEKLY;COUNT=4"
    moved = "UID:s@example.com\nRECURRENCE-ID:20271011T130000Z\nDTSTART:20271013T160000Z\nDTEND:20271013T170000Z"
    gone = (
        "UID:s@example.com\nRECURRENCE-ID:20271018T130000Z\nDTSTART:20271018T130000Z\nDTEND:20271018T140000Z\n"
        "STATUS:CANCELLED"
    )
    assert days(calendar(series, moved, gone), "2027-10-01", "2027-12-01") == [
        "2027-10-04",
        "2027-10-13",
        "2027-10-25",
    ]


def test_an_instance_can_move_into_another_month() -> None:
    series = "UID:s@example.com\nDTSTART:20271004T130000Z\nDTEND:20271004T140000Z\nRRULE:FREQ=WEEKLY;COUNT=2"
    moved = "UID:s@example.com\nRECURRENCE-ID:20271011T130000Z\nDTSTART:20271220T160000Z\nDTEND:20271220T170000Z"
    assert days(calendar(series, moved), "2027-10-01", "2028-03-01") == ["2027-10-04", "2027-12-20"]


def test_a_whole_day_event_ends_before_its_dtend() -> None:
    # RFC 5545 section 3.6.1: DTEND is not part of the event; a DATE start without an end lasts that one day
    two = "UID:a@example.com\nDTSTART;VALUE=DATE:20270628\nDTEND;VALUE=DATE:20270709"
    one = "UID:b@example.com\nDTSTART;VALUE=DATE:20271102"
    found = read_busy(calendar(two, one), since=date(2027, 6, 1), until=date(2027, 12, 1), zone=ZONE)
    spans = [(b.start.astimezone(ZONE).date(), b.end.astimezone(ZONE).date()) for b in found]
    assert spans == [(date(2027, 6, 28), date(2027, 7, 9)), (date(2027, 11, 2), date(2027, 11, 3))]
    assert not any(busy.timed for busy in found)


def test_a_folded_line_is_one_line() -> None:
    # RFC 5545 section 3.1, the printed example
    folded = "DESCRIPTION:This is a lo\n ng description\n  that exists on a long line."
    data = calendar(f"UID:a@example.com\nDTSTART:20271004T130000Z\nDURATION:PT1H\n{folded}\nSUMMARY:a lo\n ng one")
    [busy] = read_busy(data, since=date(2027, 10, 1), until=date(2027, 10, 31), zone=ZONE)
    assert busy.title == "a long one"


def unfolded(data: bytes) -> list[str]:
    return data.replace(b"\r\n ", b"").replace(b"\r\n\t", b"").decode().split("\r\n")


def test_marks_are_escaped_as_the_standard_prints_them() -> None:
    # RFC 5545 section 3.3.11: "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    said = "Project XYZ Final Review\nConference Room - 3B\nCome Prepared."
    data = write_calendar([Entry("1@example.com", STAMP, STAMP + timedelta(hours=1), "a", "", said)], stamp=STAMP)
    assert r"DESCRIPTION:Project XYZ Final Review\nConference Room - 3B\nCome Prepared." in unfolded(data)


@settings(max_examples=60, deadline=None)
@given(st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=300))
def test_folding_and_escaping_lose_nothing(said: str) -> None:
    # RFC 5545 sections 3.1 and 3.3.11: lines of 75 octets at most, CRLF; unfolding gives the line back
    data = write_calendar([Entry("1@example.com", STAMP, STAMP + timedelta(hours=1), said)], stamp=STAMP)
    assert all(len(line) <= 75 for line in data.split(b"\r\n"))
    escaped = said.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    assert f"SUMMARY:{escaped}" in unfolded(data)
    assert "DTSTART:20260524T143000Z" in unfolded(data)
