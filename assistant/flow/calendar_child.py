"""Reads a calendar file in a process of its own, which ends after two seconds whatever the file holds."""

import json
import subprocess
import sys
from datetime import date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from assistant.availability.ical import MAX_BYTES, Busy, CalendarWrong, read_busy

SECONDS = 2.0
MEMORY_BYTES = 512 * 1024 * 1024
_FOLDER = Path(__file__).resolve().parents[2]


def read_apart(data: bytes, *, since: date, until: date, zone: ZoneInfo, seconds: float = SECONDS) -> list[Busy]:
    """Return what a calendar file takes up, as `read_busy` does.

    Raises CalendarWrong, also when the file needs more than ``seconds`` or more memory than any calendar should.
    """
    if len(data) > MAX_BYTES:
        raise CalendarWrong(f"the calendar has {len(data)} bytes: export a shorter time, at most {MAX_BYTES} bytes")
    call = [sys.executable, "-m", "assistant.flow.calendar_child", since.isoformat(), until.isoformat(), zone.key]
    try:
        done = subprocess.run(call, input=data, capture_output=True, timeout=seconds, cwd=_FOLDER, check=False)
    except subprocess.TimeoutExpired:
        raise CalendarWrong(f"the calendar takes longer than {seconds:g} s to read: export a shorter time") from None
    answer = _json(done.stdout) if done.returncode == 0 else None
    if answer is None:
        raise CalendarWrong("the calendar is too heavy to read: export a shorter time")
    if "error" in answer:
        raise CalendarWrong(answer["error"])
    return [
        Busy(datetime.fromisoformat(start), datetime.fromisoformat(end), title, timed)
        for start, end, title, timed in answer["busy"]
    ]


def main() -> None:
    """Read standard input and print one line of JSON: what is busy, or what is wrong."""
    _limit()
    since, until, zone = sys.argv[1:4]
    try:
        found = read_busy(
            sys.stdin.buffer.read(),
            since=date.fromisoformat(since),
            until=date.fromisoformat(until),
            zone=ZoneInfo(zone),
        )
    except CalendarWrong as fault:
        print(json.dumps({"error": str(fault)}))
        return
    rows = [[busy.start.isoformat(), busy.end.isoformat(), busy.title, busy.timed] for busy in found]
    print(json.dumps({"busy": rows}))


def _limit() -> None:
    try:
        import resource
    except ImportError:  # not on every system; the parent's own clock still ends it
        return
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    resource.setrlimit(resource.RLIMIT_CPU, (int(SECONDS) + 1, int(SECONDS) + 1))


def _json(line: bytes) -> dict[str, Any] | None:
    try:
        found = json.loads(line)
    except ValueError:
        return None
    return found if isinstance(found, dict) else None


if __name__ == "__main__":
    main()
