"""Many ways to say a day, grouped by what they must give; and those that say none."""

from datetime import date
from typing import Any

import pytest

from assistant.reading import Finding, Reader
from tests.reading.conftest import corpus

GROUPS = [group for name in ("dates_en.yaml", "dates_es.yaml") for group in corpus(name)["groups"]]
SILENT = corpus("dates_silent.yaml")["silent"]
MODES = {"give": "", "consider": "considered ", "withdraw": "not "}


def told(finding: Finding) -> str:
    """Return a finding in the corpus's short form."""
    mode = MODES.get(finding.mode, finding.mode + " ")
    if finding.mode in ("shift", "keep", "choose"):
        return f"{mode}{finding.value}"
    if finding.value:
        return f"{mode}{finding.status} {finding.value}"
    days = finding.options
    listed = " ".join(days) if len(days) <= 7 else f"{days[0]} .. {days[-1]}"
    return f"{mode}{finding.status} {listed}"


@pytest.mark.parametrize("group", GROUPS, ids=lambda group: f"{group['locale']} {group['gives']}"[:60])
def test_every_phrasing_of_a_group_gives_the_same_day(reader: Reader, group: dict[str, Any]) -> None:
    today = date.fromisoformat(group["today"])
    for text in group["said"]:
        reading = reader.read(text, today=today, locale=group["locale"])
        assert "; ".join(map(told, reading.of("event_date"))) == group["gives"], text


@pytest.mark.parametrize("case", SILENT, ids=lambda case: case["text"][:50])
def test_a_text_without_a_day_gives_none(reader: Reader, case: dict[str, Any]) -> None:
    reading = reader.read(case["text"], today=date.fromisoformat(case["today"]), locale=case["locale"])
    assert reading.of("event_date") == ()


def test_the_corpus_holds_at_least_three_hundred_phrasings() -> None:
    assert sum(len(group["said"]) for group in GROUPS) + len(SILENT) >= 300
