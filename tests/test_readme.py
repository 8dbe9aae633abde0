"""README.md shows what the program really prints."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

README = (Path(__file__).resolve().parent.parent / "README.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^    \$ assistant (\w+) <<< '(.+)'\n    (.+)$", README, re.MULTILINE)


def test_the_examples_are_found() -> None:
    assert [command for command, _, _ in EXAMPLES] == ["read", "price", "dates"]


@pytest.mark.parametrize(("command", "line", "shown"), EXAMPLES, ids=[command for command, _, _ in EXAMPLES])
def test_an_example_prints_what_is_shown(command: str, line: str, shown: str) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "assistant", command], input=line, capture_output=True, text=True, check=True, timeout=60
    )
    kept = shown.split(', "lines": [...]')[0]
    assert run.stdout.startswith(kept)


def test_every_setting_named_is_a_setting() -> None:
    from assistant.config import Settings

    named = set(re.findall(r"ASSISTANT_([A-Z_]+)", README))
    assert named
    assert {name.lower() for name in named} <= set(Settings.__dataclass_fields__)
