"""Calendars kept elsewhere: their events block time, are replaced when read again, and hostile files end soon."""

from datetime import date, datetime, timedelta

import pytest
from booking_cast import DAY, book, live, quoted
from flow_studio import COMPLETE, ZONE, Studio

from assistant.availability.ical import CalendarWrong, read_busy
from assistant.flow import DayGone, calendars
from assistant.flow.calendar_child import read_apart
from assistant.flow.errors import DecisionRefused

SPAN = {"since": date(2027, 3, 1), "until": date(2029, 3, 1), "zone": ZONE}


def calendar(*events: str) -> bytes:
    body = "".join(
        f"BEGIN:VEVENT\nUID:{n}@example.com\nDTSTAMP:20270301T120000Z\n{e}\nEND:VEVENT\n" for n, e in enumerate(events)
    )
    return f"BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//x//EN\n{body}END:VCALENDAR\n".replace("\n", "\r\n").encode()


DENTIST = "SUMMARY:dentist\nDTSTART:20270522T090000\nDTEND:20270522T200000"
AWAY = "SUMMARY:away\nDTSTART;VALUE=DATE:20270520\nDTEND;VALUE=DATE:20270710"


def test_imported_events_block_their_time_and_are_replaced_when_read_again(studio: Studio) -> None:
    source = calendars.add_source(studio.flow, "Invented family calendar")
    assert calendars.bring_in(studio.flow, source, calendar(DENTIST)) == 1
    [block] = live(studio, "block")
    assert (block.day, block.title, block.source_id) == (DAY, "dentist", source)
    inquiry = studio.text(COMPLETE)
    assert studio.inquiry(inquiry).verdict["verdict"] == "full"  # type: ignore[index]
    assert calendars.bring_in(studio.flow, source, calendar()) == 0
    assert live(studio, "block") == []


def test_reading_one_calendar_leaves_anothers_blocks(studio: Studio) -> None:
    first, second = (calendars.add_source(studio.flow, name) for name in ("one", "two"))
    for source in (first, second, first):
        calendars.bring_in(studio.flow, source, calendar(DENTIST))
    assert sorted(block.source_id or 0 for block in live(studio, "block")) == [first, second]
    calendars.drop_source(studio.flow, second)
    assert [block.source_id for block in live(studio, "block")] == [first]
    with pytest.raises(DecisionRefused, match="no longer read"):
        calendars.bring_in(studio.flow, second, calendar(DENTIST))


def test_a_long_absence_closes_its_last_day_too(studio: Studio) -> None:
    source = calendars.add_source(studio.flow, "Invented family calendar")
    assert calendars.bring_in(studio.flow, source, calendar(AWAY)) == 2
    for day, word in (("Sat July 3", "closed"), ("Fri July 9", "closed"), ("Sun July 11", "open")):
        inquiry = studio.text(COMPLETE.replace("Sat May 22", day), sender=f"+1202555013{len(day) % 10}")
        assert studio.inquiry(inquiry).verdict["verdict"] == word  # type: ignore[index]
        studio.flow.close(inquiry, reason="asked only", designer_id=1)


def test_an_import_between_quote_and_deposit_is_seen(studio: Studio) -> None:
    inquiry = quoted(studio)
    source = calendars.add_source(studio.flow, "Invented family calendar")
    calendars.bring_in(studio.flow, source, calendar(AWAY))
    with pytest.raises(DayGone):
        book(studio, inquiry)


def test_a_file_that_cannot_be_read_leaves_the_blocks_as_they_were(studio: Studio) -> None:
    source = calendars.add_source(studio.flow, "Invented family calendar")
    calendars.bring_in(studio.flow, source, calendar(DENTIST))
    with pytest.raises(CalendarWrong):
        calendars.bring_in(studio.flow, source, b"hello")
    assert len(live(studio, "block")) == 1


def test_what_is_read_apart_is_what_is_read_here() -> None:
    data = calendar(DENTIST, AWAY, f"{DENTIST}\nRRULE:FREQ=WEEKLY;COUNT=5")
    assert read_apart(data, **SPAN, seconds=20) == read_busy(data, **SPAN)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (calendar(*["SUMMARY:x\nDTSTART:00010101T000000Z\nRRULE:FREQ=DAILY"] * 400), "longer than|too heavy"),
        (calendar(*["SUMMARY:x\nDTSTART:20270301T000000Z\nRRULE:FREQ=DAILY"] * 4000), "longer than|more than|heavy"),
        (b"BEGIN:VCALENDAR\r\n" + b"BEGIN:VEVENT\r\n" * 60_000, "longer than|calendar|heavy"),
        (b"x" * 1_000_001, "at most"),
    ],
    ids=["from the year 1", "millions", "nested", "large"],
)
def test_a_hostile_file_ends_with_a_named_error(data: bytes, words: str) -> None:
    with pytest.raises(CalendarWrong, match=words):
        read_apart(data, **SPAN)  # type: ignore[arg-type]


def test_a_rule_that_never_comes_true_is_its_first_event_alone() -> None:
    # RFC 5545 section 3.8.5.3: DTSTART counts as the first instance
    data = calendar("SUMMARY:x\nDTSTART:20270301T000000Z\nRRULE:FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30")
    assert len(read_apart(data, **SPAN, seconds=20)) == 1  # type: ignore[arg-type]


def test_the_feed_holds_jobs_and_live_holds_and_only_its_token_opens_it(studio: Studio) -> None:
    token = calendars.new_feed(studio.flow)
    book(studio, quoted(studio))
    quoted(studio, sender="+12025550122", text=COMPLETE.replace("Sat May 22", "Sat June 5"))
    text = calendars.feed_text(studio.flow, token)
    assert text is not None
    found = read_busy(text, since=date(2027, 5, 1), until=date(2027, 7, 1), zone=ZONE)
    assert [busy.start.astimezone(ZONE).date() for busy in found] == [DAY, date(2027, 6, 5)]
    assert [busy.title.startswith("Held: ") for busy in found] == [False, True]
    assert found[0].end == datetime(2027, 5, 22, 12, 30, tzinfo=ZONE)
    studio.time += timedelta(hours=48)
    assert calendars.feed_text(studio.flow, token).count(b"BEGIN:VEVENT") == 1  # type: ignore[union-attr]
    assert calendars.feed_text(studio.flow, token + "x") is None
    second = calendars.new_feed(studio.flow)
    assert calendars.feed_text(studio.flow, token) is None
    assert calendars.feed_text(studio.flow, second) is not None
