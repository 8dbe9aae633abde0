"""Calendar files: what takes time is read, repetitions are written out, bombs are refused, files are well formed."""

from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.availability import judge
from assistant.availability.ical import CalendarWrong, Entry, read_calendar, write_calendar
from assistant.loading.availability import load_calendar
from assistant.rulebook import Rulebook

ZONE = ZoneInfo("America/New_York")
STAMP = datetime(2027, 3, 1, 12, tzinfo=UTC)


def calendar(*events: str) -> bytes:
    body = "".join(
        f"BEGIN:VEVENT\nUID:{n}@example.com\nDTSTAMP:20270301T120000Z\n{e}\nEND:VEVENT\n" for n, e in enumerate(events)
    )
    return f"BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//x//EN\n{body}END:VCALENDAR\n".replace("\n", "\r\n").encode()


def days(data: bytes, since: str, until: str) -> list[str]:
    found = read_calendar(data, since=date.fromisoformat(since), until=date.fromisoformat(until), zone=ZONE)
    return [booking.start.astimezone(ZONE).date().isoformat() for booking in found]


# RFC 5545 section 3.8.5.3, examples; 09:00 in New York
@pytest.mark.parametrize(
    ("start", "rule", "until", "expected"),
    [
        (
            "19970904",
            "FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3",
            "1998-12-31",
            ["1997-09-04", "1997-10-07", "1997-11-06"],
        ),
        (
            "19970929",
            "FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2",
            "1997-12-31",
            ["1997-09-29", "1997-10-30", "1997-11-27", "1997-12-30"],
        ),
        (
            "19961105",
            "FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8",
            "2004-12-31",
            ["1996-11-05", "2000-11-07", "2004-11-02"],
        ),
        (
            "19970805",
            "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO",
            "1998-01-01",
            ["1997-08-05", "1997-08-10", "1997-08-19", "1997-08-24"],
        ),
        (
            "19970805",
            "FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=SU",
            "1998-01-01",
            ["1997-08-05", "1997-08-17", "1997-08-19", "1997-08-31"],
        ),
        (
            "20070115",
            "FREQ=MONTHLY;BYMONTHDAY=15,30;COUNT=5",
            "2008-01-01",
            ["2007-01-15", "2007-01-30", "2007-02-15", "2007-03-15", "2007-03-30"],
        ),
        ("19970512", "FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO", "1999-12-31", ["1997-05-12", "1998-05-11", "1999-05-17"]),
        (
            "19970922",
            "FREQ=MONTHLY;COUNT=6;BYDAY=-2MO",
            "1999-01-01",
            ["1997-09-22", "1997-10-20", "1997-11-17", "1997-12-22", "1998-01-19", "1998-02-16"],
        ),
    ],
)
def test_repetitions_fall_on_the_days_of_the_standards_examples(
    start: str, rule: str, until: str, expected: list[str]
) -> None:
    event = f"SUMMARY:x\nDTSTART;TZID=America/New_York:{start}T090000\nDURATION:PT1H\nRRULE:{rule}"
    assert days(calendar(event), "1996-01-01", until) == expected


def test_a_repetition_keeps_its_local_hour_over_the_clock_change() -> None:
    # 15 USC 260a and the IANA zone table: 09:00 New York is 14:00 UTC on 7 March 2026, 13:00 UTC the day after
    event = "SUMMARY:x\nDTSTART;TZID=America/New_York:20260307T090000\nDURATION:PT1H\nRRULE:FREQ=DAILY;COUNT=2"
    found = read_calendar(calendar(event), since=date(2026, 3, 1), until=date(2026, 3, 31), zone=ZONE)
    assert [booking.start.hour for booking in found] == [14, 13]


def test_free_time_and_cancelled_events_take_nothing() -> None:
    times = "DTSTART:20271016T130000Z\nDTEND:20271016T150000Z"
    data = calendar(
        f"SUMMARY:a\n{times}", f"SUMMARY:b\nTRANSP:TRANSPARENT\n{times}", f"SUMMARY:c\nSTATUS:CANCELLED\n{times}"
    )
    assert len(days(data, "2027-10-01", "2027-10-31")) == 1


def test_a_private_appointment_takes_its_hours_of_the_day() -> None:
    rules = load_calendar(Rulebook())
    data = calendar("SUMMARY:dentist\nDTSTART:20271016T090000\nDTEND:20271016T110000")
    blocks = read_calendar(data, since=date(2027, 10, 1), until=date(2027, 10, 31), zone=rules.zone)
    found = judge(date(2027, 10, 16), bookings=blocks, rules=rules, today=date(2027, 3, 1))
    assert found.crew_hours_free == 7.0


def test_a_whole_day_takes_all_its_hours() -> None:
    rules = load_calendar(Rulebook())
    data = calendar("SUMMARY:away\nDTSTART;VALUE=DATE:20271016\nDTEND;VALUE=DATE:20271018")
    blocks = read_calendar(data, since=date(2027, 10, 1), until=date(2027, 10, 31), zone=rules.zone)
    free = [
        judge(date(2027, 10, n), bookings=blocks, rules=rules, today=date(2027, 3, 1)).crew_hours_free
        for n in (15, 16, 17, 18)
    ]
    assert free == [9.0, 0.0, 0.0, 9.0]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "no calendar file"),
        (b"hello", "no calendar file"),
        (b"BEGIN:VCALENDAR\r\n", "calendar"),
        (b"\xff\xfe\x00", "no calendar file"),
        (b"BEGIN:VEVENT\r\nEND:VEVENT\r\n", "BEGIN:VCALENDAR"),
        (b"x" * 1_000_001, "export a shorter time"),
        (calendar("SUMMARY:bomb\nDTSTART:20270101T000000Z\nRRULE:FREQ=SECONDLY"), "repeats within a day"),
        (
            calendar("SUMMARY:bomb\nDTSTART:20270101T000000Z\nRRULE:FREQ=DAILY;BYHOUR=1,2,3;BYMINUTE=1,2"),
            "repeats within a day",
        ),
    ],
)
def test_a_file_that_cannot_be_used_is_refused_with_a_remedy(data: bytes, words: str) -> None:
    with pytest.raises(CalendarWrong, match=words):
        read_calendar(data, since=date(2027, 1, 1), until=date(2027, 12, 31), zone=ZONE)


entries = st.builds(
    lambda n, begin, length, summary, place: Entry(
        f"{n}@example.com", begin, begin + timedelta(minutes=length), summary, place
    ),
    st.integers(0, 10_000),
    st.datetimes(datetime(2027, 1, 2), datetime(2027, 12, 30)).map(lambda m: m.replace(microsecond=0, tzinfo=UTC)),
    st.integers(1, 900),
    st.text(st.characters(blacklist_categories=("Cs", "Cc")), min_size=1, max_size=120),
    st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=40),
)


@settings(max_examples=80, deadline=None)
@given(st.lists(entries, max_size=4, unique_by=lambda entry: entry.uid))
def test_what_is_written_is_well_formed_and_reads_back(some: list[Entry]) -> None:
    # RFC 5545 section 3.1: lines end in CRLF and hold at most 75 octets; no character is cut
    data = write_calendar(some, stamp=STAMP)
    lines = data.split(b"\r\n")
    assert lines[-1] == b""
    assert all(len(line) <= 75 and b"\n" not in line for line in lines)
    for line in lines:
        line.decode("utf-8")
    found = read_calendar(data, since=date(2027, 1, 1), until=date(2027, 12, 31), zone=ZONE)
    assert sorted((booking.start, booking.end) for booking in found) == sorted((e.start, e.end) for e in some)


def test_marks_of_the_format_are_escaped() -> None:
    # RFC 5545 section 3.3.11: backslash, semicolon and comma are escaped, a new line is written \n
    data = write_calendar(
        [Entry("1@example.com", STAMP, STAMP + timedelta(hours=1), "a,b;c\\d\nEND:VEVENT")], stamp=STAMP
    )
    assert b"SUMMARY:a\\,b\\;c\\\\d\\nEND:VEVENT\r\n" in data
    assert b"DTSTART:20270301T120000Z\r\n" in data


GOOD = calendar("SUMMARY:x\nDTSTART;TZID=America/New_York:20271016T090000\nDURATION:PT1H\nRRULE:FREQ=WEEKLY;COUNT=3")


@settings(max_examples=150, deadline=None)
@given(st.integers(0, len(GOOD) - 1), st.integers(0, 30), st.binary(max_size=12))
def test_a_damaged_file_is_read_or_refused_and_never_breaks(at: int, cut: int, put: bytes) -> None:
    damaged = GOOD[:at] + put + GOOD[at + cut :]
    with suppress(CalendarWrong):
        found = read_calendar(damaged, since=date(2027, 1, 1), until=date(2027, 12, 31), zone=ZONE)
        assert all(booking.start <= booking.end for booking in found)
