"""Hard-wrapped mail: a line end inside a paragraph parts no names, one between lines still does."""

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from assistant.loading.reading import load_reader
from assistant.reading.wrapping import wrapped_ends
from assistant.rulebook import Rulebook

READER = load_reader(Rulebook())
MAIL = (
    "our staff summer party is on Friday, July 16, 2027, 5:00 PM, at the Tannery\n"
    "Loft, 40 Mill Row, Springfield 62704. We need a balloon wall 10 ft wide by 8 ft\n"
    "tall, and a 20 ft garland over the bar.\n\nBest\nTheo Brandt-Ilves"
)


def test_a_name_across_two_wrapped_lines_is_one_place() -> None:
    reading = READER.read(MAIL, today=date(2027, 3, 1), channel="email")
    (place,) = reading.of("place")
    assert "Tannery" in str(place.value)
    assert "Loft" in str(place.value)
    sizes = [finding.value for finding in reading.of("pieces")]
    assert {"kind": "wall", "count": 1, "width_ft": [10, 10], "height_ft": [8, 8]} in sizes
    assert reading.of("name")[0].value == "Theo Brandt-Ilves"


def test_short_lines_of_a_text_message_stay_lines() -> None:
    text = "how much for a garland on may 15, pink and gold, in a park\nThanks\nTess"
    assert wrapped_ends(text) == frozenset()


def test_a_line_that_ends_a_sentence_stays_a_line() -> None:
    lines = ["a" * 70 + ".", "b" * 71, "word " * 3]
    text = "\n".join(lines)
    assert 71 not in wrapped_ends(text)


@given(st.text(alphabet="ab .\n", max_size=400))
def test_only_line_ends_are_taken(text: str) -> None:
    assert all(text[place] == "\n" for place in wrapped_ends(text))
