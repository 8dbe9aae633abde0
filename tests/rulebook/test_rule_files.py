"""Rule files: every fault is named with its place and its remedy, and the studio's own file wins."""

from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from assistant.rulebook import Rulebook, RuleFilesWrong
from assistant.rulebook.source import parse_source

CASES = yaml.safe_load((Path(__file__).parent / "broken" / "cases.yaml").read_text(encoding="utf-8"))


@dataclass(frozen=True)
class Hours:
    week: int
    weekend: int
    __pydantic_config__ = {"extra": "forbid"}  # noqa: RUF012

    def __post_init__(self) -> None:
        if self.week < 0:
            raise ValueError(f"week is {self.week}, below 0: write 0 or more")


@dataclass(frozen=True)
class Shape:
    name: str
    hours: Hours
    rate: Decimal = Decimal("0.5")
    __pydantic_config__ = {"extra": "forbid"}  # noqa: RUF012


def book_with(folder: Path, text: str) -> Rulebook:
    (folder / "rules.yaml").write_text(text, encoding="utf-8")
    return Rulebook(folder, with_shipped=False)


@pytest.mark.parametrize("name", CASES)
def test_a_broken_rule_file_is_named_with_place_and_remedy(name: str, tmp_path: Path) -> None:
    with pytest.raises(RuleFilesWrong) as fault:
        book_with(tmp_path, CASES[name]["text"]).load("rules.yaml", Shape)
    for words in CASES[name]["words"]:
        assert words in str(fault.value)


def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    text = "name: 3\nhours: {week: x, weekend: y}\nextra: 1\n"
    with pytest.raises(RuleFilesWrong) as fault:
        book_with(tmp_path, text).load("rules.yaml", Shape)
    assert {p.key for p in fault.value.problems} == {"name", "hours.week", "hours.weekend", "extra"}


def test_numbers_with_a_point_are_exact(tmp_path: Path) -> None:
    book = book_with(tmp_path, "name: x\nhours: {week: 1, weekend: 2}\nrate: 0.725\n")
    assert book.load("rules.yaml", Shape).rate == Decimal("0.725")


def test_the_studios_own_file_wins_over_the_shipped_one(tmp_path: Path) -> None:
    own, shipped = tmp_path / "own", tmp_path / "shipped"
    for folder, name in ((own, "own"), (shipped, "shipped")):
        folder.mkdir()
        (folder / "rules.yaml").write_text(f"name: {name}\nhours: {{week: 1, weekend: 2}}\n")
    (shipped / "other.yaml").write_text("name: other\nhours: {week: 1, weekend: 2}\n")
    book = Rulebook(own, shipped, with_shipped=False)
    assert book.load("rules.yaml", Shape).name == "own"
    assert book.load("other.yaml", Shape).name == "other"


def test_a_line_is_known_for_every_key(tmp_path: Path) -> None:
    book = book_with(tmp_path, "name: x\nhours:\n  week: 1\n  weekend: 2\n")
    assert book.source("rules.yaml").where(("hours", "weekend")) == "rules.yaml:4"


def test_the_version_changes_with_any_byte(tmp_path: Path) -> None:
    first = book_with(tmp_path, "name: x\nhours: {week: 1, weekend: 2}\n").version("rules.yaml")
    second = book_with(tmp_path, "name: x\nhours: {week: 1, weekend: 3}\n").version("rules.yaml")
    assert first != second


def test_a_file_cut_at_any_byte_is_refused_or_whole(tmp_path: Path) -> None:
    text = "name: Invented Studio\nhours:\n  week: 3\n  weekend: 4\nrate: 0.125\n"
    for end in range(len(text)):
        try:
            shape = book_with(tmp_path, text[:end]).load("rules.yaml", Shape)
        except RuleFilesWrong:
            continue
        assert shape.hours.week == 3


def test_an_alias_bomb_is_refused_before_it_grows() -> None:
    levels = "\n".join(f"a{i}: &a{i} [{', '.join(['*a' + str(i - 1)] * 9)}]" for i in range(1, 9))
    with pytest.raises(RuleFilesWrong, match="anchors and aliases"):
        parse_source("bomb.yaml", f"a0: &a0 [x]\n{levels}\n")


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_with_its_place(text: str) -> None:
    try:
        problems = parse_source("any.yaml", text).lines and ()
    except RuleFilesWrong as fault:
        problems = fault.problems
    assert all(problem.file == "any.yaml" and problem.line >= 1 and problem.remedy for problem in problems)
