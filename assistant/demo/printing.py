"""Prints a conversation as it stands: message, facts read, verdict, what is asked, the draft with its range."""

from collections.abc import Callable
from textwrap import indent, wrap
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from assistant.flow.drafts import open_draft
from assistant.store.models import Inquiry, Message, Outgoing, Task

WIDTH = 100
Line = Callable[[str], None]


def print_heading(number: int, title: str, line: Line) -> None:
    """Print the heading of one conversation."""
    line("")
    line(f"-- {number}. {title} ".ljust(WIDTH, "-"))


def print_message(message: Message, line: Line) -> None:
    """Print what came in."""
    who = f"{message.channel} from {message.sender}"
    _block(f"  {who}:", message.read_text, line)


def print_standing(session: Session, inquiry_id: int, line: Line) -> None:
    """Print where an inquiry stands after its last message."""
    inquiry = session.get_one(Inquiry, inquiry_id)
    line(f"    facts    {_facts(inquiry.facts)}")
    if inquiry.verdict:
        _wrapped(f"    day      {inquiry.verdict['verdict']}: ", inquiry.verdict["why"], line)
        if inquiry.verdict.get("alternates"):
            line(f"             instead: {', '.join(inquiry.verdict['alternates'])}")
    step = inquiry.step or {}
    for entry in (inquiry.quote or {}).get("assumed", []) if step.get("kind") == "draft" else []:
        _wrapped(f"    assumed  {entry['fact']}: ", f"{entry['value']} ({entry['why']})", line)
    if step.get("reasons"):
        _wrapped(f"    step     {step['kind']}: ", "; ".join(step["reasons"]), line)
    else:
        line(f"    step     {step.get('kind', '-')}")


def print_answers(session: Session, inquiry_id: int, since: int, line: Line) -> int:
    """Print what was sent after outgoing row ``since``, the open draft and the open tasks; return the last row's id."""
    sent = session.scalars(
        select(Outgoing).where(Outgoing.inquiry_id == inquiry_id, Outgoing.id > since).order_by(Outgoing.id)
    ).all()
    for row in sent:
        how = "after the designer's yes" if row.approved_by else "at once, no price and no promise in it"
        _block(f"    {row.state} ({how}):", row.text, line, "      > ")
    draft = open_draft(session, inquiry_id)
    if draft:
        _block(f"    draft {draft.version} waits for the designer{_range(draft.quote)}:", draft.text, line, "      | ")
    tasks = session.scalars(select(Task).where(Task.inquiry_id == inquiry_id, Task.done_at.is_(None)))
    for task in tasks:
        _wrapped("    for the designer: ", task.reason, line)
    return sent[-1].id if sent else since


def _range(quote: dict[str, Any] | None) -> str:
    if not quote:
        return ""
    low, likely, high, floor = (f"${quote[key] / 100:,.0f}" for key in ("low", "likely", "high", "floor"))
    return f" ({low} - {high}, likely {likely}, floor {floor})"


def _facts(facts: dict[str, Any]) -> str:
    shown = [f"{name} {_value(fact)}" for name, fact in facts.items()]
    return "; ".join(shown) or "none"


def _value(fact: Any) -> str:
    if isinstance(fact, list):
        return " + ".join(_value(item) for item in fact)
    if not isinstance(fact, dict):
        return str(fact)
    if "kind" in fact:
        return _piece(fact)
    if fact.get("status") in ("stated", "inferred"):
        mark = "" if fact["status"] == "stated" else " (inferred)"
        return f"{fact.get('value')}{mark}"
    if "value" in fact:
        return str(fact["value"])
    return f"{fact.get('status', '')} {fact.get('options') or fact.get('span') or ''}".strip()


def _piece(piece: dict[str, Any]) -> str:
    sizes = [
        f"{key.removesuffix('_ft')} {'-'.join(f'{end:g}' for end in dict.fromkeys(piece[key]))} ft"
        for key in ("length_ft", "width_ft", "height_ft")
        if piece.get(key)
    ]
    count = f"{piece['count']} x " if piece.get("count", 1) != 1 else ""
    return count + " ".join([piece["kind"], *sizes])


def _block(head: str, text: str, line: Line, edge: str = "    < ") -> None:
    line(head)
    for row in text.splitlines() or [""]:
        for part in wrap(row, WIDTH - len(edge)) or [""]:
            line(edge + part)


def _wrapped(head: str, text: str, line: Line) -> None:
    rows = wrap(text, WIDTH - len(head)) or [""]
    line(head + rows[0])
    if rows[1:]:
        line(indent("\n".join(rows[1:]), " " * len(head)))
