"""JSON Lines in, JSON Lines out: one answer for each line, and a bad line never stops the others."""

import json
import sys
from collections.abc import Callable, Iterable
from typing import Any, TextIO

MAX_LINE = 2_000_000


class BadLine(ValueError):
    """A line that cannot be answered; the text says what is wrong and how to mend it."""


def answer_lines(lines: Iterable[str], answer: Callable[[dict[str, Any]], dict[str, Any]], out: TextIO) -> int:
    """Write one JSON line for each non-blank line of ``lines``; return 1 if any was bad, else 0."""
    status = 0
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        ident: Any = None
        try:
            request = _parse(line)
            ident = request.get("id")
            reply = answer(request)
        except ValueError as problem:
            status = 1
            reply = {"id": ident, "error": f"line {number}: {problem}"}
        except Exception as fault:  # the other lines are still answered, whatever this one did to us
            status = 1
            reply = {
                "id": ident,
                "error": f"line {number}: not answered, an unforeseen {type(fault).__name__}: report it",
            }
        out.write(_one_line(reply) + "\n")
    return status


def _one_line(reply: dict[str, Any]) -> str:
    """Return an answer as JSON in plain characters; a lone half of a character, which no file can hold, is escaped."""
    line = json.dumps(reply, ensure_ascii=False, separators=(", ", ": "))
    return line if line.isprintable() else json.dumps(reply, separators=(", ", ": "))


def _parse(line: str) -> dict[str, Any]:
    if len(line) > MAX_LINE:
        raise BadLine(f"longer than {MAX_LINE} characters; send a shorter one")
    try:
        request = json.loads(line)
    except (ValueError, RecursionError) as problem:
        raise BadLine(f"not JSON ({problem}); write one JSON object on each line") from None
    if not isinstance(request, dict):
        raise BadLine("not a JSON object; write {...} with an id")
    return request


def open_inputs(names: list[str]) -> Iterable[str]:
    """Yield the lines of the named files, or of standard input when none is named or the name is ``-``."""
    for name in names or ["-"]:
        if name == "-":
            yield from sys.stdin
        else:
            with open(name, encoding="utf-8") as file:
                yield from file
