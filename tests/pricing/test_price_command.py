"""`assistant price`: JSON Lines in and out, in the documented shape."""

import io
import json
import subprocess
import sys

import pytest

from assistant.cli import main
from tests.pricing.jobs import garland


@pytest.fixture
def run(monkeypatch, capsys):
    def send(lines, *options):
        monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{line}\n" for line in lines)))
        status = main(["price", *options])
        out = capsys.readouterr()
        return status, [json.loads(line) for line in out.out.splitlines()], out.err

    return send


def request(ident, facts):
    return json.dumps({"id": ident, "today": "2027-03-01", "facts": facts})


def test_a_line_is_answered_in_the_documented_shape(run):
    status, (answer,), _ = run([request("p1", garland([8, 12], setting=None))])
    assert status == 0
    assert answer["id"] == "p1"
    assert answer["currency"] == "USD"
    documented = {
        "low", "likely", "high", "exact", "floor", "lines", "take_home_per_hour", "hours", "balloons", "packs",
        "narrowing", "cautions", "assumed",
    }  # fmt: skip
    assert documented <= answer.keys()
    for figures in (answer, answer["exact"], answer["take_home_per_hour"], *answer["lines"]):
        assert all(isinstance(figures[end], int) for end in ("low", "likely", "high"))
        assert figures["low"] <= figures["likely"] <= figures["high"]
    for end in ("low", "likely", "high"):
        assert sum(line[end] for line in answer["lines"]) == answer[end]
    assert [set(row) for row in answer["narrowing"]] == [{"fact", "width_now", "width_if_known"}] * 2
    assert all({"fact", "value", "why"} == set(row) for row in answer["assumed"])


def test_a_bad_line_gets_its_error_and_the_others_their_answer(run):
    lines = [
        request("a", garland(900)),
        "{not json",
        '{"id": "c", "today": "2027-03-01"}',
        '{"id": "d", "facts": {}}',
        '{"id": "n", "today": "2027-03-01", "facts": {"miles": NaN}}',
        request("e", garland(pieces=[{"kind": "sculpture"}])),
        request("f", garland()),
    ]
    status, answers, _ = run(lines)
    assert status == 1
    assert len(answers) == len(lines)
    assert ["error" in answer for answer in answers] == [True] * 6 + [False]
    assert "facts.pieces[0].length_ft: 900 is more than 200" in answers[0]["error"]
    assert "write like" in answers[3]["error"] or "write it like" in answers[3]["error"]
    assert "facts.miles: nan is no number" in answers[4]["error"]
    assert "a sculpture" in answers[5]["error"]


def test_pricing_starts_without_the_web_the_store_and_the_carrier():
    code = "import sys, assistant.commands.price; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    assert not {"flask", "sqlalchemy", "twilio", "alembic", "zipcodes"} & set(loaded)


def test_explain_prints_the_tree_beside_the_answer(run):
    _, (answer,), tree = run([request("p1", garland())], "--explain")
    assert f"likely {answer['exact']['likely'] / 100:.2f}" in tree


def test_a_studios_own_rule_folder_wins(run, tmp_path):
    from assistant.paths import shipped

    text = (shipped("rules") / "prices.yaml").read_text().replace("owner_per_hour: 30.00", "owner_per_hour: 40.00")
    (tmp_path / "prices.yaml").write_text(text)
    _, (dearer,), _ = run([request("p1", garland())], "--rules", str(tmp_path))
    _, (usual,), _ = run([request("p1", garland())])
    assert dearer["exact"]["likely"] > usual["exact"]["likely"]
    assert dearer["price_book"] != usual["price_book"]
