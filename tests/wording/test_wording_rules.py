"""Templates, phrases and approval: every fault is named by file, line and remedy; some settings are refused."""

from pathlib import Path

import pytest

from assistant.cli import main
from assistant.loading.wording import load_wording
from assistant.paths import shipped
from assistant.rulebook import Rulebook, RuleFilesWrong


def template(folder: Path, name: str, text: str | bytes) -> Path:
    file = folder / "replies" / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(text if isinstance(text, bytes) else text.encode())
    return folder


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        (
            "en/ask.txt",
            "{greeting}\n{quesions}",
            ["replies/en/ask.txt, line 2", "quesions", "did you mean 'questions'"],
        ),
        ("en/ask.txt", "{questions", ["replies/en/ask.txt, line 1", "'{' opens or closes no field"]),
        ("en/ask.txt", "one\ntwo [{questions}", ["replies/en/ask.txt, line 2", "'[' opens or closes no field"]),
        ("en/ask.txt", "{questions.__class__}", ["replies/en/ask.txt, line 1", "opens or closes no field"]),
        ("es/range.txt", " \n", ["replies/es/range.txt", "the template is empty", "write its text or delete it"]),
        ("en/mail.txt", "Hello\n", ["replies/en/mail.txt", "{body}"]),
        ("en/ask.txt", b"caf\xe9 {questions}", ["replies/en/ask.txt", "not UTF-8"]),
        ("en/ask.txt", "x" * 30_000, ["replies/en/ask.txt", "over 20000 bytes"]),
    ],
)
def test_a_broken_template_is_named_with_its_remedy(
    name: str, text: str | bytes, words: list[str], tmp_path: Path
) -> None:
    with pytest.raises(RuleFilesWrong) as fault:
        load_wording(Rulebook(), template(tmp_path, name, text))
    for word in words:
        assert word in str(fault.value)


def rules(folder: Path, file: str, find: str, put: str) -> Rulebook:
    text = (shipped("rules") / file).read_text(encoding="utf-8")
    assert find in text
    (folder / file).write_text(text.replace(find, put, 1), encoding="utf-8")
    return Rulebook(folder)


@pytest.mark.parametrize(
    ("file", "find", "put", "words"),
    [
        ("approval.yaml", "[ask, answer,", "[draft, ask, answer,", ["'draft' bears a price", "it always needs a yes"]),
        ("approval.yaml", "[ask, answer,", "[accept, ask, answer,", ["'accept' bears a price"]),
        ("approval.yaml", "[ask, answer,", "[asks, answer,", ["the step 'asks' is not known", "opt_out"]),
        (
            "phrases.yaml",
            "  es:\n    conjunction",
            "  fr:\n    conjunction",
            ["phrases.yaml", "languages.es", "add its words"],
        ),
        ("phrases.yaml", 'sized: "{size} {noun}"', 'sized: "{noun}"', ["phrases.yaml", "sized lacks {size}"]),
        (
            "questions.yaml",
            "mean[: {days}]?",
            "mean: {days}?",
            ["questions.1.words.en.0", "put the field into [brackets]"],
        ),
        ("questions.yaml", "mean[: {days}]?", "mean[: {dayz}]?", ["questions.1.words.en.0", "did you mean 'days'"]),
        ("studio.yaml", "languages: [en, es]", "languages: [en, es, fr]", ["studio.yaml", "no words for 'fr'"]),
    ],
)
def test_a_broken_rule_is_named_with_its_remedy(
    file: str, find: str, put: str, words: list[str], tmp_path: Path
) -> None:
    with pytest.raises(RuleFilesWrong) as fault:
        load_wording(rules(tmp_path, file, find, put))
    for word in words:
        assert word in str(fault.value)


def test_a_studios_own_template_wins_over_the_shipped_one(tmp_path: Path) -> None:
    wording = load_wording(Rulebook(), template(tmp_path, "en/help.txt", "Ring {phone}."))
    assert wording.templates["en", "help"].text == "Ring {phone}."
    assert "range" in {name for _, name in wording.templates}


def test_the_check_says_that_all_shipped_rules_are_fine(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "check"]) == 0
    assert "wrong" not in capsys.readouterr().out


def test_the_check_tells_the_faults_of_every_room_at_once(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rules(tmp_path, "calendar.yaml", "lead_days: 3", "lead_days: -3")
    rules(tmp_path, "handover.yaml", "price >= 1500", "prize >= 1500")
    template(tmp_path, "en/ask.txt", "{nothing}")
    assert main(["rules", "check", "--rules", str(tmp_path), "--templates", str(tmp_path)]) == 1
    told = capsys.readouterr().out
    for words in ("lead_days is -3, below 0", "the name 'prize' is not known", "replies/en/ask.txt, line 1"):
        assert words in told


def test_the_check_names_a_question_without_words_in_a_language(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rules(tmp_path, "questions.yaml", "      es:\n        - ¿A nombre de quién hago la cotización?\n", "")
    assert main(["rules", "check", "--rules", str(tmp_path)]) == 1
    assert "no words in 'es'" in capsys.readouterr().out
