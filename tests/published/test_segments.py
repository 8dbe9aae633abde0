"""Parts of a text message against 3GPP TS 23.038 and TS 23.040 and against another counter, the package smsutil."""

import pytest
import smsutil
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.wording.gsm import BASIC, EXTENDED, is_gsm, plain
from assistant.wording.segments import JOINED, WHOLE, segments

BALLOON = "\U0001f388"

# Units and parts after 3GPP TS 23.038 sec. 6.2.1 and TS 23.040 sec. 9.2.3.24 (8-bit reference): 140 octets hold 160
# septets or 70 UTF-16 units, 134 hold 153 or 67. Three independent counters agreed on every row.
TABLE = [
    ("a" * 160, "GSM-7", 160, 1),
    ("a" * 161, "GSM-7", 161, 2),
    ("a" * 306, "GSM-7", 306, 2),
    ("a" * 307, "GSM-7", 307, 3),
    ("a" * 459, "GSM-7", 459, 3),
    ("a" * 460, "GSM-7", 460, 4),
    ("€" * 80, "GSM-7", 160, 1),
    ("€" * 81, "GSM-7", 162, 2),
    ("a" * 158 + "€", "GSM-7", 160, 1),
    ("a" * 159 + "€", "GSM-7", 161, 2),
    ("a" * 152 + "€" + "a" * 152, "GSM-7", 306, 3),
    ("é" * 160, "GSM-7", 160, 1),
    ("ê" * 70, "UCS-2", 70, 1),
    ("ê" * 71, "UCS-2", 71, 2),
    ("ê" * 134, "UCS-2", 134, 2),
    ("ê" * 135, "UCS-2", 135, 3),
    (BALLOON * 35, "UCS-2", 70, 1),
    (BALLOON * 36, "UCS-2", 72, 2),
    ("a" * 69 + BALLOON, "UCS-2", 71, 2),
    ("a" * 66 + BALLOON + "a" * 66, "UCS-2", 134, 3),
    ("€" * 153, "GSM-7", 306, 3),
    ("10 ft [white] {gold}", "GSM-7", 24, 1),
]


@pytest.mark.parametrize(("text", "encoding", "units", "parts"), TABLE)
def test_a_text_takes_as_many_parts_as_the_standard_says(text: str, encoding: str, units: int, parts: int) -> None:
    found = segments(text)
    assert (found.encoding, found.units, len(found.parts)) == (encoding, units, parts)


def test_the_alphabets_have_as_many_characters_as_the_standard() -> None:
    # 3GPP TS 23.038: 128 places, one of them the escape; ten characters behind it
    assert len(BASIC) == 127
    assert len(EXTENDED) == 10


@pytest.mark.parametrize("char", "çáíóúêâ’“”–—…½″`\t\u00a0")
def test_characters_that_look_plain_but_are_not_in_the_alphabet(char: str) -> None:
    assert not is_gsm(char)


@pytest.mark.parametrize("char", "Çñü¿¡àéèìòù'\"$£¥@€")
def test_characters_that_stay_in_the_alphabet(char: str) -> None:
    assert is_gsm(char)


texts = st.text(
    st.one_of(
        st.sampled_from(sorted(BASIC | EXTENDED)),
        st.sampled_from(["ê", "í", BALLOON, "’", "中"]),
        st.characters(codec="utf-16"),
    ),
    max_size=500,
)


@settings(max_examples=200, deadline=None)
@given(texts)
def test_another_counter_agrees(text: str) -> None:
    if text:  # counters differ on an empty text; here it is one part
        assert [part.content for part in smsutil.split(text).parts] == list(segments(text).parts)


@settings(max_examples=200, deadline=None)
@given(texts)
def test_the_parts_are_the_text_and_no_pair_is_torn(text: str) -> None:
    found = segments(text)
    assert "".join(found.parts) == text
    room = WHOLE if len(found.parts) == 1 else JOINED
    for part in found.parts:
        assert segments(part).units <= room[found.encoding] or segments(part).encoding != found.encoding
        assert not 0xDC00 <= ord(part[:1] or "a") <= 0xDFFF


@settings(max_examples=200, deadline=None)
@given(texts)
def test_writing_plainly_changes_only_what_the_alphabet_lacks(text: str) -> None:
    assert plain(plain(text)) == plain(text)
    if is_gsm(text):
        assert plain(text) == text


def test_an_empty_text_is_one_empty_part() -> None:
    assert segments("").parts == ("",)


def test_spanish_and_typographic_marks_are_written_in_the_small_alphabet() -> None:
    assert plain("Mañana – ¿a qué hora será? “8×8” ½") == 'Mañana - ¿a qué hora sera? "8x8" 1/2'
    assert is_gsm(plain("¡Sábado 12 de junio, 3:00\u202fp.\u00a0m.!"))
