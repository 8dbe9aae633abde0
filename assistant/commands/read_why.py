"""What `assistant read --why` prints: each text, what was read in it, by which rule and words, and what lost."""

from collections.abc import Callable, Iterable
from datetime import date
from typing import Any, TextIO

from assistant.inquiry.merge import merge
from assistant.jsonl import answer_lines
from assistant.reading.findings import Finding, Reading

Read = Callable[[dict[str, Any]], tuple[list[str], list[Reading], date]]


def explain(lines: Iterable[str], read: Read, out: TextIO) -> int:
    """Print the reasons for every line; a bad line gives its error as in JSON."""

    def answer(request: dict[str, Any]) -> dict[str, Any]:
        messages, readings, today = read(request)
        out.write(f"== {request.get('id')}  today {today}\n")
        for text, reading in zip(messages, readings, strict=True):
            out.writelines(row + "\n" for row in _rows(text, reading))
        sheet = merge(readings, today=today)
        return {"id": request.get("id"), "kind": sheet.kind, "facts": sheet.facts}

    return answer_lines(lines, answer, out)


def _rows(text: str, reading: Reading) -> Iterable[str]:
    yield f"-- {_short(text)}"
    yield f"   {reading.kind}: {reading.why}"
    for finding in reading.findings:
        yield f"   {finding.key:<11} {_said(finding):<34} {_quoted(text, finding)}  [{finding.rule}]"
        if finding.why:
            yield f"      because {finding.why}"
        for lost in finding.lost:
            yield f"      left out: {lost}"


def _said(finding: Finding) -> str:
    shown = finding.value if finding.value is not None else " | ".join(map(str, finding.options[:7]))
    mode = "" if finding.mode == "give" else f"{finding.mode}: "
    return f"{mode}{finding.status} {shown}"


def _quoted(text: str, finding: Finding) -> str:
    return " ... ".join(repr(text[start:end]) for start, end in finding.spans)


def _short(text: str) -> str:
    line = " / ".join(part.strip() for part in text.splitlines() if part.strip())
    return line if len(line) <= 160 else line[:157] + "..."
