"""What holds for every fact but the day: spans quote the client, padding and capitals change nothing."""

import json
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.reading import Reading
from tests.reading.phrases import READER, TODAY

FACTS = ("pieces", "size", "colours", "setting", "place", "budget", "name", "occasion")
LINES = (Path(__file__).parent.parent / "corpus" / "conversations.jsonl").read_text(encoding="utf-8").splitlines()
MESSAGES = sorted({text for line in LINES for text in json.loads(line)["messages"] if len(text) < 160})
NEITHER_CASED = ("pieces", "size", "budget", "occasion")


def told(reading: Reading, facts: tuple[str, ...] = FACTS) -> list[tuple[object, ...]]:
    return [(f.key, f.value, f.status, f.mode) for f in reading.findings if f.key in facts]


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(MESSAGES), st.sampled_from(["", " ", "\t", "  "]), st.sampled_from(["", " ", "  ", "\n"]))
def test_padding_changes_no_fact(text: str, before: str, after: str) -> None:
    assert told(READER.read(before + text + after, today=TODAY)) == told(READER.read(text, today=TODAY))


@settings(max_examples=150, deadline=None)
@given(st.sampled_from([text for text in MESSAGES if '"' not in text and "etters" not in text]))
def test_small_letters_change_no_piece_size_budget_or_occasion(text: str) -> None:
    small = told(READER.read(text.lower(), today=TODAY), NEITHER_CASED)
    assert [fact for fact in small if fact[0] != "pieces"] == [
        fact for fact in told(READER.read(text, today=TODAY), NEITHER_CASED) if fact[0] != "pieces"
    ]


@pytest.mark.parametrize("text", MESSAGES)
def test_a_colour_a_place_and_a_name_are_the_words_of_their_spans(text: str) -> None:
    for finding in READER.read(text, today=TODAY).findings:
        quoted = [text[start:end] for start, end in finding.spans]
        assert all(quoted), finding
        if finding.key == "place":
            assert finding.value == ", ".join(" ".join(words.split()) for words in quoted)
        if finding.key == "name":
            assert finding.value.lower() == " ".join(quoted[0].split()).lower()
        if finding.key == "colours" and "mended" not in finding.rule and len(finding.value) == len(quoted[0]):
            assert finding.value[0] == quoted[0][0].lower()


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(MESSAGES), min_size=2, max_size=4), st.sampled_from(["\n", " ", ". ", "\n\n"]))
def test_any_mixture_of_messages_is_read_without_fault(texts: list[str], join: str) -> None:
    for channel in ("sms", "email"):
        READER.read(join.join(texts), today=TODAY, channel=channel)
