"""The demo: an invented day through the real doors, as the README's first command plays it."""

import subprocess
import sys
from pathlib import Path

import pytest


def play(folder: Path, *more: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "assistant", "demo", "--once", "--studio", str(folder), *more]
    return subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)


@pytest.fixture(scope="module")
def runs(tmp_path_factory: pytest.TempPathFactory) -> list[subprocess.CompletedProcess[str]]:
    """The demo played twice into one folder."""
    folder = tmp_path_factory.mktemp("demo") / "studio"
    return [play(folder), play(folder)]


def test_it_ends_well_and_starts_clean_each_time(runs: list[subprocess.CompletedProcess[str]]) -> None:
    first, second = runs
    assert (first.returncode, second.returncode) == (0, 0), first.stderr + second.stderr
    assert first.stderr == ""
    assert first.stdout == second.stdout


def test_it_shows_each_kind_of_ending(runs: list[subprocess.CompletedProcess[str]]) -> None:
    shown = runs[0].stdout
    for words in (
        "facts    event_date 2027-05-15",
        "day      open",
        "day      full",
        "day      closed",
        "step     hand_over",
        "step     silent",
        "step     opt_out",
        "waits for the designer ($",
        "after the designer's yes",
        "machines are not answered",
        "delivered this text twice; it is one message",
        "¿",
    ):
        assert words in shown, words


def test_no_text_that_went_at_once_bears_a_price(runs: list[subprocess.CompletedProcess[str]]) -> None:
    went = [block for block in runs[0].stdout.split("sent (")[1:] if block.startswith("at once")]
    assert len(went) > 8
    for block in went:
        told = [line for line in block.splitlines() if line.startswith("      > ")]
        assert told
        assert not any("$" in line for line in told)


def test_a_folder_that_is_not_the_demos_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "precious.txt").write_text("mine")
    run = play(tmp_path)
    assert run.returncode == 2
    assert "not a folder of the demo" in run.stderr
    assert "Traceback" not in run.stderr
    assert (tmp_path / "precious.txt").read_text() == "mine"
