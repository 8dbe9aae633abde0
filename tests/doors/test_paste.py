"""A pasted text is a message like any other, and a number is one number however it is written."""

import pytest
from cast import NOW

from assistant.doors.paste import LONGEST, pasted
from assistant.doors.phone import e164


@pytest.mark.parametrize("raw", ["+12025550101", "(202) 555-0101", "202.555.0101", " +1 202-555-0101 "])
def test_a_number_is_one_number_however_it_is_written(raw: str) -> None:
    """ITU-T E.164; 555-0100 to 555-0199 are kept for examples (NANPA)."""
    assert e164(raw) == "+12025550101"


@pytest.mark.parametrize("raw", ["72345", "555-0101", "Dana", "", "whatsapp:+12025550101", "+1202555010112345678"])
def test_what_is_no_number_stays_as_it_came(raw: str) -> None:
    assert e164(raw) == raw


def test_a_pasted_text_says_where_it_came_from() -> None:
    found = pasted("Hi!\r\n10 ft arch?", "Dana (202) 555-0101", "a social network", NOW)
    assert (found.channel, found.text, found.sender) == ("paste", "Hi!\n10 ft arch?", "+12025550101")
    assert found.note == "pasted in, came by a social network"
    assert pasted("Hi", "(202) 555-0101", "", NOW).sender == "+12025550101"
    assert pasted("Hi", "Dana@Example.org", "", NOW).sender == "dana@example.org"


def test_pasting_twice_makes_two_messages_and_two_unnamed_clients_are_two() -> None:
    first, second = pasted("Hi", "", "", NOW), pasted("Hi", "", "", NOW)
    assert first.provider_id != second.provider_id
    assert first.sender != second.sender


def test_a_long_pasted_text_is_kept_whole() -> None:
    found = pasted("x" * (LONGEST + 1), "Dana", "", NOW)
    assert (len(found.text), len(found.whole_text or "")) == (LONGEST, LONGEST + 1)


def test_nothing_pasted_is_refused_with_a_remedy() -> None:
    with pytest.raises(ValueError, match="paste the client's message"):
        pasted("  \n", "Dana", "", NOW)
