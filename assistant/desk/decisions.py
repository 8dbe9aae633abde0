"""Her decisions: send, keep, answer herself, write something else, close, tick off a task."""

from dataclasses import dataclass

from flask import Blueprint, Response, abort, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from assistant.desk.context import the_desk
from assistant.desk.guard import own_path, visitor
from assistant.desk.inquiry_page import Typed, show
from assistant.desk.pages import page
from assistant.flow.drafts import same_newlines
from assistant.flow.errors import AlreadyDecided, DecisionRefused, TextChanged
from assistant.store import queries_desk as ask
from assistant.store.models import Draft

CHANGED_KEEP = (
    "Keeping for later keeps the reply as it was drafted, and you changed it. Your words are still here: "
    "send them, or put the draft back as it was and keep it."
)
MOST_TEXT = 20_000


def add_to(blueprint: Blueprint) -> None:
    """Register the routes."""
    one = "/desk/inquiry/<int(max=2147483647):inquiry_id>"
    for path, name, view in (
        (f"{one}/reply", "reply", reply),
        (f"{one}/mine", "answer_myself", answer_myself),
        (f"{one}/write", "write", write),
        (f"{one}/close", "close", close),
        ("/desk/task/<int(max=2147483647):task_id>/done", "done_task", done_task),
        (f"{one}/held/<int(max=2147483647):outgoing_id>", "settle", settle),
    ):
        blueprint.add_url_rule(path, name, view, methods=["POST"])


@dataclass(frozen=True)
class Reply:
    """The reply form as typed, with LF line ends: browsers send CRLF for what was shown as LF."""

    text: str
    subject: str | None
    fingerprint: str


def reply(inquiry_id: int) -> AnyResponse:
    """Send the reply exactly as it stands in the form, or keep the draft for later."""
    draft = _own_draft(inquiry_id)
    typed = _typed_reply(draft)
    try:
        if request.form.get("act") == "keep":
            return _keep(draft, typed)
        the_desk().flow.approve(
            draft.id,
            fingerprint=typed.fingerprint,
            text=typed.text,
            subject=typed.subject,
            designer_id=visitor().designer_id,
        )
    except AlreadyDecided as problem:
        return _second(draft, problem, typed.text)
    except DecisionRefused as problem:
        again = Typed(text=typed.text, subject=typed.subject, reply_problem=str(problem))
        return show(inquiry_id, again, 409 if isinstance(problem, TextChanged) else 400)
    return redirect(url_for("desk.inquiry", inquiry_id=inquiry_id, said="sent"), 303)


def answer_myself(inquiry_id: int) -> AnyResponse:
    """Drop the draft: she answers by phone or in person."""
    _own_inquiry(inquiry_id)
    try:
        the_desk().flow.answer_myself(inquiry_id, designer_id=visitor().designer_id)
    except DecisionRefused as problem:
        return show(inquiry_id, Typed(reply_problem=str(problem)), 409)
    return redirect(url_for("desk.inquiry", inquiry_id=inquiry_id, said="mine"), 303)


def write(inquiry_id: int) -> AnyResponse:
    """Send a text of her own."""
    _own_inquiry(inquiry_id)
    text = same_newlines(request.form.get("own_text", ""))
    subject = one_line(request.form.get("own_subject"))
    problem = _text_problem(text)
    try:
        if not problem:
            the_desk().flow.write(inquiry_id, text=text, subject=subject, designer_id=visitor().designer_id)
    except DecisionRefused as refused:
        problem = str(refused)
    if problem:
        return show(inquiry_id, Typed(own_text=text, own_subject=subject, own_problem=problem), 400)
    return redirect(url_for("desk.inquiry", inquiry_id=inquiry_id, said="sent"), 303)


def close(inquiry_id: int) -> AnyResponse:
    """Close an inquiry with a reason."""
    _own_inquiry(inquiry_id)
    chosen = request.form.get("reason", "")
    known = the_desk().words.group("close_reasons")
    reason = " ".join((request.form.get("other_reason", "").strip() or known.get(chosen, "")).split())
    if not reason or len(reason) > 200:
        again = Typed(reason=reason, close_problem="Choose a reason, or write one of at most 200 characters.")
        return show(inquiry_id, again, 400)
    try:
        the_desk().flow.close(inquiry_id, reason=reason, designer_id=visitor().designer_id)
    except DecisionRefused as problem:
        return show(inquiry_id, Typed(reason=reason, close_problem=str(problem)), 409)
    return redirect(url_for("desk.inquiry", inquiry_id=inquiry_id, said="closed"), 303)


def done_task(task_id: int) -> AnyResponse:
    """Tick off a task."""
    with the_desk().store.read() as session:
        if ask.task_of(session, visitor().studio_id, task_id) is None:
            abort(404)
    the_desk().flow.done_task(task_id, designer_id=visitor().designer_id)
    return redirect(own_path(request.form.get("back")) + "?said=task_done", 303)


def settle(inquiry_id: int, outgoing_id: int) -> AnyResponse:
    """Take her word on a message of unsure delivery: it arrived, or it is to be sent again."""
    _own_inquiry(inquiry_id)
    arrived = {"arrived": True, "again": False}.get(request.form.get("what", ""))
    if arrived is None:
        abort(400)
    try:
        the_desk().flow.settle(inquiry_id, outgoing_id, arrived=arrived, designer_id=visitor().designer_id)
    except DecisionRefused as problem:
        return show(inquiry_id, Typed(own_problem=str(problem)), 409)
    return redirect(url_for("desk.inquiry", inquiry_id=inquiry_id, said="settled"), 303)


def one_line(text: str | None) -> str | None:
    """Return a subject without line breaks or control characters; None for nothing."""
    kept = "".join(character if character.isprintable() else " " for character in text or "").strip()
    return kept[:500] or None


def _own_inquiry(inquiry_id: int) -> None:
    with the_desk().store.read() as session:
        if not ask.inquiry_exists(session, visitor().studio_id, inquiry_id):
            abort(404)


def _own_draft(inquiry_id: int) -> Draft:
    given = request.form.get("draft_id", "")
    if not (given.isascii() and given.isdigit() and len(given) < 10):
        abort(400)
    with the_desk().store.read() as session:
        draft = ask.draft_of(session, visitor().studio_id, int(given))
    if draft is None or draft.inquiry_id != inquiry_id:
        abort(404)
    return draft


def _typed_reply(draft: Draft) -> Reply:
    text = same_newlines(request.form.get("text", ""))
    subject = one_line(request.form.get("subject")) if draft.subject is not None else None
    return Reply(text, subject, request.form.get("fingerprint", ""))


def _keep(draft: Draft, typed: Reply) -> AnyResponse:
    if typed.text != same_newlines(draft.text) or typed.subject != draft.subject:
        return show(draft.inquiry_id, Typed(typed.text, typed.subject, CHANGED_KEEP), 409)
    the_desk().flow.keep(draft.id, designer_id=visitor().designer_id)
    return redirect(url_for("desk.home", said="kept"), 303)


def _second(draft: Draft, problem: AlreadyDecided, typed: str) -> Response:
    """Show who was first and what went out; her own words stay on the page."""
    with the_desk().store.read() as session:
        sent = ask.sent_for_draft(session, draft.id)
    changed = typed if typed != same_newlines(draft.text) else ""
    return page("decided.html", status=409, problem=problem, draft=draft, sent=sent, typed=changed)


def _text_problem(text: str) -> str:
    if not text.strip():
        return "There is nothing to send: write the text first."
    if len(text) > MOST_TEXT:
        return f"{len(text)} characters: use {MOST_TEXT} at most."
    return ""
