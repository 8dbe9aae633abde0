"""Each file of broken_rules/ makes one mistake in a shipped rule file, and holds the words its message must contain."""

import shutil
from pathlib import Path

import pytest
import yaml

from assistant.loading.pricing import FILES, load_price_book
from assistant.paths import shipped
from assistant.rulebook import Rulebook, RuleFilesWrong

BROKEN = sorted((Path(__file__).parent / "broken_rules").glob("*.yaml"))


@pytest.fixture
def folder(tmp_path):
    for name in FILES:
        shutil.copy(shipped("rules") / name, tmp_path / name)
    return tmp_path


@pytest.mark.parametrize("mistake", BROKEN, ids=lambda path: path.stem)
def test_a_mistake_is_named_by_file_line_key_and_remedy(mistake, folder):
    case = yaml.safe_load(mistake.read_text())
    file = folder / case["file"]
    right = file.read_text()
    assert case["change"] in right, "the mistake no longer fits the shipped file"
    file.write_text(right.replace(case["change"], case["to"], 1))
    with pytest.raises(RuleFilesWrong) as caught:
        load_price_book(Rulebook(folder))
    message = str(caught.value)
    assert [words for words in case["message"] if words not in message] == [], message


def test_the_line_named_is_the_line_of_the_mistake(folder):
    file = folder / "prices.yaml"
    lines = file.read_text().splitlines()
    line = next(i for i, text in enumerate(lines, start=1) if "shop_hours" in text)
    lines[line - 1] = "  shop_hours: -1"
    file.write_text("\n".join(lines))
    with pytest.raises(RuleFilesWrong, match=rf"prices\.yaml, line {line}: visit\.shop_hours"):
        load_price_book(Rulebook(folder))


def test_all_faults_of_a_file_are_told_at_once(folder):
    file = folder / "prices.yaml"
    text = file.read_text().replace("owner_per_hour: 30.00", "owner_per_hour: -1")
    file.write_text(text.replace("parking: 10.00", "parking: -1"))
    with pytest.raises(RuleFilesWrong) as caught:
        load_price_book(Rulebook(folder))
    assert len(caught.value.problems) == 2


def test_the_version_follows_the_bytes_of_the_rule_files(folder):
    before = load_price_book(Rulebook(folder)).version
    assert before == load_price_book(Rulebook(folder)).version
    with (folder / "pieces.yaml").open("a") as file:
        file.write("# a remark\n")
    assert load_price_book(Rulebook(folder)).version != before


def test_a_rule_is_found_again_by_file_and_line(folder):
    book = load_price_book(Rulebook(folder))
    place = book.where("prices.yaml", "travel", "per_mile")
    assert book.where("prices.yaml", "travel", "no such key") == book.where("prices.yaml", "travel")
    file, line = place.split(":")
    assert "per_mile: 0.725" in (folder / file).read_text().splitlines()[int(line) - 1]
