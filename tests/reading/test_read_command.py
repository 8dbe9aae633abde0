"""`assistant read` as a script meets it."""

import io
import json
import subprocess
import sys

import pytest

from assistant.cli import main

LINE = {"id": "x1", "today": "2027-03-01", "messages": ["arch for june 12 3pm"]}


def run(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *lines: object, options: tuple[str, ...] = ()
):
    feed = "\n".join(line if isinstance(line, str) else json.dumps(line) for line in lines)
    monkeypatch.setattr(sys, "stdin", io.StringIO(feed))
    status = main(["read", *options])
    return status, capsys.readouterr().out.splitlines()


def test_one_answer_for_each_line_in_order(monkeypatch, capsys) -> None:
    status, out = run(monkeypatch, capsys, LINE, {**LINE, "id": "x2", "messages": ["stop"]})
    first, second = map(json.loads, out)
    assert status == 0
    assert (first["id"], first["kind"], first["facts"]["event_date"]["value"]) == ("x1", "inquiry", "2027-06-12")
    assert first["facts"]["event_time"]["value"] == "15:00"
    assert (second["id"], second["kind"], second["facts"]) == ("x2", "opt_out", {})


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"today": "soon"}, "today"), ({"today": None}, "today"), ({"messages": "hi"}, "messages"),
        ({"messages": [1]}, "messages"), ({"channel": "fax"}, "channel"), ({"locale": 5}, "locale"),
    ],
)  # fmt: skip
def test_a_bad_line_is_named_and_the_others_are_answered(monkeypatch, capsys, change, words) -> None:
    status, out = run(monkeypatch, capsys, {**LINE, **change}, LINE)
    assert status == 1
    assert words in json.loads(out[0])["error"]
    assert json.loads(out[1])["kind"] == "inquiry"


def test_why_shows_the_words_the_rule_and_what_was_left_out(monkeypatch, capsys) -> None:
    texts = {**LINE, "messages": ["rsvp by may 1, party june 12"]}
    _, out = run(monkeypatch, capsys, texts, options=("--why",))
    shown = "\n".join(out)
    assert "'june 12'" in shown
    assert "[month day]" in shown
    assert "left out" in shown


def test_reading_needs_neither_web_nor_store() -> None:
    """Start-up matters: none of the heavy libraries may be pulled in."""
    code = (
        "import sys, assistant.commands.read as r, assistant.loading.inquiry; from assistant.rulebook import Rulebook;"
        "r.load_reader(Rulebook()); heavy = {'flask', 'sqlalchemy', 'twilio', 'alembic', 'holidays'};"
        "sys.exit(str(heavy & set(sys.modules)) if heavy & set(sys.modules) else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
