"""`assistant dates`: one verdict a line, a bad line named by its field and its remedy."""

import io
import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from assistant.availability import Needs
from assistant.cli import main
from assistant.commands.dates import answerer
from assistant.jsonl import answer_lines
from assistant.loading.availability import load_calendar
from assistant.rulebook import Rulebook

ASKED = {"id": "d1", "today": "2027-03-01", "bookings": [], "day": "2027-10-16", "start": "15:00", "facts": {}}
RULES = load_calendar(Rulebook())


def no_prices(facts: Any, today: date) -> Needs | None:
    return None


def answers(*requests: Any, needs_of: Any = no_prices) -> list[dict[str, Any]]:
    out = io.StringIO()
    lines = [request if isinstance(request, str) else json.dumps(request) for request in requests]
    answer_lines(lines, answerer(RULES, needs_of), out)
    return [json.loads(line) for line in out.getvalue().splitlines()]


def test_a_line_is_answered_with_verdict_reason_hours_and_alternates() -> None:
    booked = {"start": "2027-10-16T09:00", "end": "2027-10-16T11:00", "crew_hours": 2.5, "zip": "10001"}
    [found] = answers({**ASKED, "bookings": [booked]})
    assert list(found) == ["id", "verdict", "why", "crew_hours_free", "alternates", "options", "scarcest"]
    assert (found["id"], found["verdict"], found["crew_hours_free"]) == ("d1", "open", 6.5)


def test_the_hours_of_the_priced_job_decide() -> None:
    def big(facts: Any, today: date) -> Needs:
        assert (facts["pieces"], today) == ([{"kind": "arch"}], date(2027, 3, 1))
        return Needs.of(build=9, event_day=3, travel=0.5)

    assert answers({**ASKED, "facts": {"pieces": [{"kind": "arch"}]}}, needs_of=big)[0]["verdict"] == "full"


def test_day_and_start_may_come_from_the_facts() -> None:
    facts = {
        "event_date": {"status": "stated", "value": "2027-02-27"},
        "event_time": {"status": "stated", "value": "9:30"},
    }
    [past] = answers({"id": 1, "today": "2027-03-01", "facts": {**facts, "event_time": None}})
    assert past["verdict"] == "past"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"day": "2027-02-30"}, ["day:", "2027-02-30", "write it like 2027-10-16"]),
        ({"day": None}, ["day:", "write it like"]),
        ({"today": "soon"}, ["today:", "write it like 2027-10-16"]),
        ({"start": "3pm"}, ["start:", "write it like 15:00"]),
        ({"start": "15:00+02:00"}, ["start:", "studio's local time"]),
        ({"facts": []}, ["facts:", "an object is needed"]),
        ({"bookings": {}}, ["bookings:", "a list is needed"]),
        ({"bookings": [3]}, ["bookings[0]:", "give start and end"]),
        ({"bookings": [{"end": "2027-10-16T09:00"}]}, ["bookings[0].start", "write it like"]),
        ({"bookings": [{"start": "2027-10-16T09:00", "end": "2027-10-16T08:00"}]}, ["bookings[0].end", "later time"]),
        ({"bookings": [{"start": "2027-10-16", "crew_hours": -1}]}, ["bookings[0].crew_hours", "0 and 1000"]),
        ({"bookings": [{"start": "2027-10-16", "crew_hours": "two"}]}, ["bookings[0].crew_hours", "no number"]),
        ({"bookings": [{"start": "2027-10-16", "crew_hrs": 2}]}, ["bookings[0].crew_hrs", "did you mean 'crew_hours'"]),
        ({"bookings": [{"start": "2027-10-16", "kind": "wish"}]}, ["bookings[0].kind", "job, hold, block"]),
        ({"booking": []}, ["booking:", "did you mean 'bookings'"]),
        ({"bookings": [{"start": "0001-01-01"}]}, ["bookings[0].start", "out of reach"]),
        ({"bookings": [{"start": "2027-10-16", "end": "2199-10-16"}]}, ["bookings[0].end", "split the booking"]),
    ],
)
def test_a_bad_line_names_its_field_and_its_remedy(change: dict[str, Any], words: list[str]) -> None:
    bad, good = answers({**ASKED, **change}, {**ASKED, "id": "d2"})
    assert bad["id"] == "d1"
    for word in words:
        assert word in bad["error"]
    assert good["verdict"] == "open"


def test_the_command_reads_files_and_ends_with_1_when_a_line_was_bad(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    lines = tmp_path / "lines.jsonl"
    lines.write_text(json.dumps(ASKED) + "\nnot json\n", encoding="utf-8")
    assert main(["dates", str(lines)]) == 1
    first, second = map(json.loads, capsys.readouterr().out.splitlines())
    assert first["verdict"] == "open"
    assert "not JSON" in second["error"]
