"""JSON Lines in, JSON Lines out: a bad line is named, and the others are answered all the same."""

import io
import json
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from assistant.jsonl import answer_lines


def double(request: dict[str, Any]) -> dict[str, Any]:
    return {"id": request.get("id"), "twice": request["n"] * 2 if "n" in request else request["gone"]}


def answers(*lines: str) -> tuple[int, list[dict[str, Any]]]:
    out = io.StringIO()
    status = answer_lines(lines, double, out)
    return status, [json.loads(line) for line in out.getvalue().splitlines()]


def test_each_line_is_answered_in_order_and_a_bad_one_says_why() -> None:
    status, found = answers('{"id": 1, "n": 2}', "nonsense", "", "[1]", '{"id": 4, "n": 5}')
    assert status == 1
    assert [one.get("twice") for one in found] == [4, None, None, 10]
    assert "line 2: not JSON" in found[1]["error"]
    assert "line 4: not a JSON object" in found[2]["error"]


def test_an_unforeseen_fault_stays_on_its_own_line() -> None:
    status, found = answers('{"id": 1}', '{"id": 2, "n": 1}')
    assert status == 1
    assert "unforeseen KeyError" in found[0]["error"]
    assert found[1]["twice"] == 2


def test_good_lines_alone_end_well() -> None:
    assert answers('{"id": 1, "n": 2}')[0] == 0


@given(st.text())
def test_any_id_comes_back_whole_on_one_line(ident: str) -> None:
    _, found = answers(json.dumps({"id": ident, "n": 1}))
    assert [one["id"] for one in found] == [ident]


def test_half_a_character_can_be_written_to_a_file() -> None:
    out = io.StringIO()
    answer_lines(['{"id": "\\ud800", "n": 1}'], double, out)
    assert json.loads(out.getvalue().encode())["id"] == "\ud800"
