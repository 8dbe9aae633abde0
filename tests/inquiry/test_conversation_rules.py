"""The rules of a conversation: every broken one is named by file, key and remedy; conditions are safe."""

from pathlib import Path

import pytest
import yaml

from assistant.inquiry.conditions import NAMES, ConditionWrong, compile_condition, specimens
from assistant.loading.inquiry import load_conversation
from assistant.paths import shipped
from assistant.rulebook import Rulebook, RuleFilesWrong

CASES = yaml.safe_load((Path(__file__).parent / "broken" / "cases.yaml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_a_broken_rule_is_named_with_its_place_and_remedy(case: dict[str, str], tmp_path: Path) -> None:
    text = (shipped("rules") / case["file"]).read_text(encoding="utf-8")
    assert case["find"] in text
    (tmp_path / case["file"]).write_text(text.replace(case["find"], case["put"], 1), encoding="utf-8")
    with pytest.raises(RuleFilesWrong) as fault:
        load_conversation(Rulebook(tmp_path))
    for words in case["words"]:
        assert words in str(fault.value)


def test_a_wrong_condition_is_named_by_its_line(tmp_path: Path) -> None:
    lines = (shipped("rules") / "handover.yaml").read_text(encoding="utf-8").splitlines()
    number = next(n for n, line in enumerate(lines, start=1) if "size(pieces) >= 3" in line)
    lines[number - 1] = "    when: days_ahed < 3"
    (tmp_path / "handover.yaml").write_text("\n".join(lines), encoding="utf-8")
    with pytest.raises(RuleFilesWrong) as fault:
        load_conversation(Rulebook(tmp_path))
    assert fault.value.problems[0].line == number
    assert "did you mean 'days_ahead'" in fault.value.problems[0].remedy


def test_every_shipped_condition_can_be_judged_in_every_specimen() -> None:
    rules = load_conversation(Rulebook())
    many = specimens(tuple(rules.flags), tuple(q.id for q in rules.asking.questions), many=300)
    for condition in rules.conditions.values():
        held = {condition(values) for values in many}
        assert held <= {True, False}


def test_every_name_has_a_type_and_a_meaning() -> None:
    assert all(name.type and name.meaning for name in NAMES.values())


@pytest.mark.parametrize(
    "hostile",
    ["__import__('os')", "known.__class__", "().__class__", "'a' * 9", "open('/etc/passwd')", "a" * 5000, "(" * 400],
)
def test_a_condition_cannot_reach_anything_but_the_named_values(hostile: str) -> None:
    with pytest.raises(ConditionWrong):
        compile_condition(hostile)


def test_every_shipped_question_is_worded_in_the_same_languages() -> None:
    languages = {frozenset(question.words) for question in load_conversation(Rulebook()).asking.questions}
    assert languages == {frozenset({"en", "es"})}
