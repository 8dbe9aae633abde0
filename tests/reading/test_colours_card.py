"""The studio's colour card covers every colour word that reading knows."""

import re
from typing import Any

import pytest
import yaml

from assistant.paths import shipped
from tests.reading.phrases import READER, TODAY

CARD: dict[str, Any] = yaml.safe_load((shipped("rules") / "colours.yaml").read_text(encoding="utf-8"))
KNOWN = set(CARD["stock"]) | {word for words in CARD["stands_for"].values() for word in words}
FINISHES = {"standard", "pearl", "metallic", "mirror", "clear", "printed", "doubled"}


def words_of_rules() -> list[str]:
    files = sorted((shipped("rules") / "words").glob("*/colours.yaml"))
    listed = [yaml.safe_load(file.read_text(encoding="utf-8")) for file in files]
    return sorted({word for kinds in listed for kind in ("colour", "loose_colour") for word in kinds[kind]})


@pytest.mark.parametrize("name", CARD["stock"])
def test_each_stock_colour_is_drawn_in_srgb_and_has_a_finish(name: str) -> None:
    entry = CARD["stock"][name]
    assert re.fullmatch(r"#[0-9a-f]{6}", entry["hex"])
    assert entry["finish"] in FINISHES


@pytest.mark.parametrize("word", words_of_rules())
def test_each_colour_word_has_a_stock_colour_that_comes_nearest(word: str) -> None:
    assert word in KNOWN


def test_no_word_stands_for_two_stock_colours() -> None:
    words = [word for listed in CARD["stands_for"].values() for word in listed] + list(CARD["stock"])
    assert len(words) == len(set(words))


@pytest.mark.parametrize("name", CARD["stock"])
def test_each_stock_colour_is_understood_in_a_list_of_colours(name: str) -> None:
    reading = READER.read(f"colors: red, {name} and white", today=TODAY)
    assert name in [finding.value for finding in reading.of("colours")]
