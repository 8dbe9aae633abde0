"""What holds for any text: spans, padding, case, odd characters, bounded work."""

from datetime import date

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.loading.reading import load_reader
from assistant.reading import Reading
from assistant.reading.grammar import MOST_NODES_EACH_TOKEN
from assistant.rulebook import Rulebook
from tests.reading.conftest import corpus

READER = load_reader(Rulebook())
TODAY = date(2027, 3, 10)
ODD = st.text(st.characters(exclude_categories=()), max_size=120)
PHRASES = st.sampled_from(
    [text for name in ("dates_en.yaml", "dates_es.yaml") for g in corpus(name)["groups"] for text in g["said"]]
)
PADDING = st.sampled_from(["", " ", "   ", "\t", "\n", "\u00a0", "🎈 ", "\u200b ", "🎉🎉 "])


def told(reading: Reading) -> list[tuple[object, ...]]:
    return [(f.key, f.value, f.status, f.options, f.mode) for f in reading.findings]


@settings(max_examples=150, deadline=None)
@given(ODD)
def test_no_text_crashes_and_every_span_lies_in_it(text: str) -> None:
    for channel in ("sms", "email"):
        reading = READER.read(text, today=TODAY, channel=channel)
        assert all(0 <= start < end <= len(text) for f in reading.findings for start, end in f.spans)


@settings(max_examples=150, deadline=None)
@given(PHRASES, PADDING, PADDING)
def test_padding_around_a_text_changes_no_fact_and_spans_move_along(text: str, before: str, after: str) -> None:
    plain, padded = (READER.read(t, today=TODAY) for t in (text, before + text + after))
    dates = [f for f in plain.findings if f.key == "event_date"]
    again = [f for f in padded.findings if f.key == "event_date"]
    assert [(f.value, f.options, f.mode) for f in dates] == [(f.value, f.options, f.mode) for f in again]
    for one, other in zip(dates, again, strict=True):
        quoted = [text[start:end] for start, end in one.spans]
        assert quoted == [(before + text + after)[start:end] for start, end in other.spans]


@settings(max_examples=120, deadline=None)
@given(PHRASES, st.sampled_from([str.upper, str.lower]))
def test_case_changes_no_date(text: str, turn: "object") -> None:
    assert callable(turn)
    plain, turned = READER.read(text, today=TODAY), READER.read(turn(text), today=TODAY)
    assert [f.value for f in plain.of("event_date")] == [f.value for f in turned.of("event_date")]


@pytest.mark.parametrize(
    "text",
    [
        "\x00",
        "\ud800",
        "may \x00 5",
        "\u202ejune 5\u202c",
        "5\u0307 june",
        "٥ june",
        "½/½",
        "1/1/1/1/1",
        "june 99999999999",
    ],
)
def test_strange_characters_are_read_without_fault(text: str) -> None:
    READER.read(text, today=TODAY)


@pytest.mark.parametrize(
    "piece",
    [
        "1 ",
        "june 5 ",
        "sat ",
        "1/",
        "june 5 or ",
        "a ",
        "the 5th of ",
        "a week from ",
        "5-",
        "\n1",
        "next ",
        "(",
        "twenty ",
    ],
)
def test_work_on_a_hostile_text_is_bounded(piece: str) -> None:
    text = (piece * 10_000)[:10_000]
    context = READER.context(text, today=TODAY)
    assert len(context.nodes) <= 2 * MOST_NODES_EACH_TOKEN * (len(context.tokens) + 10)


@settings(max_examples=60, deadline=None)
@given(PHRASES, st.dates(date(2020, 1, 1), date(2040, 12, 31)))
def test_a_date_that_is_given_never_lies_before_today(text: str, today: date) -> None:
    for finding in READER.read(text, today=today).of("event_date"):
        if finding.mode == "give" and finding.value is not None:
            assert date.fromisoformat(finding.value) >= today


@settings(max_examples=60, deadline=None)
@given(PHRASES, st.dates(date(2020, 1, 1), date(2040, 12, 31)))
def test_what_is_unclear_has_no_value_and_what_has_one_has_no_options(text: str, today: date) -> None:
    for finding in READER.read(text, today=today).of("event_date"):
        if finding.mode == "give":
            assert (finding.value is None) == (finding.status in ("unclear", "impossible"))
            assert finding.value is None or not finding.options


def test_the_same_text_gives_the_same_reading_twice() -> None:
    text = "sat june 12 or sun june 13, 3pm"
    assert told(READER.read(text, today=TODAY)) == told(READER.read(text, today=TODAY))
