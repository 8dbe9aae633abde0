"""Many ways to say when it starts, and what kind of message a text is."""

from datetime import date
from typing import Any

import pytest

from assistant.reading import Reader
from tests.reading.conftest import corpus

TODAY = date(2027, 3, 10)
TIMES = corpus("times.yaml")["groups"]
KINDS = corpus("kinds.yaml")["kinds"]


@pytest.mark.parametrize("group", TIMES, ids=lambda group: f"{group['locale']} {group['gives']}")
def test_every_phrasing_of_a_group_gives_the_same_start(reader: Reader, group: dict[str, Any]) -> None:
    for text in group["said"]:
        found = reader.read(text, today=TODAY, locale=group["locale"]).of("event_time")
        assert (f"{found[0].status} {found[0].value}" if found else "nothing") == group["gives"], text


@pytest.mark.parametrize("kind", list(KINDS))
def test_each_text_is_of_its_kind(reader: Reader, kind: str) -> None:
    for text in KINDS[kind]:
        assert reader.read(text, today=TODAY).kind == kind, text


# Words named in 47 CFR 64.1200(a)(10): each of them alone must always be taken as a wish to opt out.
LEGAL_WORDS = ("stop", "quit", "end", "revoke", "opt out", "cancel", "unsubscribe")


@pytest.mark.parametrize("word", LEGAL_WORDS)
@pytest.mark.parametrize("form", ["{}", "{}.", " {} ", "{}!!", "please {}", "{} please", "{}\n", "🙏 {}"])
def test_every_legal_opt_out_word_counts_in_any_dress(reader: Reader, word: str, form: str) -> None:
    for dressed in (word, word.upper(), word.title()):
        assert reader.read(form.format(dressed), today=TODAY).kind == "opt_out"


def test_an_opt_out_tells_no_facts(reader: Reader) -> None:
    assert reader.read("stop texting me about june 12", today=TODAY).findings == ()
