"""What needs the designer, the oldest promise first; below it every inquiry, the latest first."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from flask import Blueprint, Response, abort, request
from sqlalchemy.orm import Session

from assistant.desk.context import the_desk
from assistant.desk.guard import visitor
from assistant.desk.pages import page
from assistant.desk.summary import Summary, summarise
from assistant.store import queries_desk as ask
from assistant.store.models import Draft, Outgoing, Task

PAGE = 20


@dataclass(frozen=True)
class Need:
    """One thing that waits for her. ``kind`` is draft, kept, task, failed or unsure; ``since`` when it began."""

    kind: str
    since: datetime
    summary: Summary | None
    reason: str = ""
    excerpt: str = ""
    purpose: str = ""
    task_id: int | None = None
    due: datetime | None = None


def add_to(blueprint: Blueprint) -> None:
    """Register the route."""
    blueprint.add_url_rule("/desk", "home", home)


def home() -> Response:
    """Show what needs her and the list of all inquiries."""
    studio_id, number = visitor().studio_id, page_number()
    with the_desk().store.read() as session:
        needs = gather(session, studio_id)
        rows, more = ask.inquiries_page(session, studio_id, skip=(number - 1) * PAGE, size=PAGE)
        listed = [(summarise(row), row.updated_at) for row in rows]
    if number > 1 and not listed:
        abort(404)
    return page("home.html", needs=needs, listed=listed, number=number, more=more)


def page_number() -> int:
    """Return the page asked for; what is no page number is a page that doesn't exist."""
    text = request.args.get("page", "1")
    if not (text.isascii() and text.isdigit() and 1 <= int(text[:6]) <= 100_000 and len(text) <= 6):
        abort(404)
    return int(text)


def gather(session: Session, studio_id: int) -> list[Need]:
    """Return everything that waits: stuck sends, tasks and waiting drafts by age, then what she kept for later."""
    drafts = ask.open_drafts(session, studio_id)
    heard = ask.last_heard(session, [draft.inquiry_id for draft in drafts])
    waiting = [_of_draft(draft, heard.get(draft.inquiry_id)) for draft in drafts if draft.state == "waiting"]
    kept = [_of_draft(draft, heard.get(draft.inquiry_id)) for draft in drafts if draft.state == "kept"]
    drafted = {draft.inquiry_id for draft in drafts if draft.state == "waiting" and draft.purpose == "draft"}
    found = ask.open_tasks(session, studio_id)
    tasks = [_of_task(task) for task in found if task.kind != "hand_over" or task.inquiry_id not in drafted]
    stuck = [_of_send(send) for send in ask.stuck_sends(session, studio_id)]
    return _by_age([*stuck, *tasks, *waiting]) + _by_age(kept)


def _by_age(needs: Iterable[Need]) -> list[Need]:
    return sorted(needs, key=lambda need: need.since)


def _of_draft(draft: Draft, heard: datetime | None) -> Need:
    return Need(
        kind="draft" if draft.state == "waiting" else "kept",
        since=heard or draft.created_at,
        summary=summarise(draft.inquiry),
        reason="; ".join(map(str, draft.reasons)) if draft.purpose == "draft" else "",
        excerpt=draft.text[:600],
        purpose=draft.purpose,
    )


def _of_task(task: Task) -> Need:
    return Need(
        kind="task",
        since=task.created_at,
        summary=summarise(task.inquiry) if task.inquiry else None,
        reason=task.reason,
        task_id=task.id,
        due=task.due_at,
    )


def _of_send(send: Outgoing) -> Need:
    return Need(
        kind=send.state,
        since=send.created_at,
        summary=summarise(send.inquiry) if send.inquiry else None,
        reason=send.error or "",
        excerpt=send.text[:600],
    )
