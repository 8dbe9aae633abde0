"""Taking in a message that came by no door of ours."""

import secrets
from dataclasses import replace

from flask import Blueprint, Response, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from assistant.desk.context import the_desk
from assistant.desk.decisions import one_line
from assistant.desk.guard import visitor
from assistant.desk.pages import page
from assistant.desk.sessions import hash_token
from assistant.doors.inbound import Inbound
from assistant.doors.paste import pasted
from assistant.flow.drafts import same_newlines

MOST_TEXT = 20_000
MOST_NAME, MOST_REACH = 200, 254


def add_to(blueprint: Blueprint) -> None:
    """Register the route."""
    blueprint.add_url_rule("/desk/paste", "paste", paste, methods=["GET", "POST"])


def paste() -> AnyResponse:
    """Show the form, or take the message in like one from any other door."""
    visitor()
    if request.method != "POST":
        return _form({}, {})
    given = {name: request.form.get(name, "") for name in ("pasted", "name", "reach", "came_from")}
    given["pasted"] = same_newlines(given["pasted"])
    problems = _problems(given)
    if problems:
        return _form(given, problems, 400)
    return _take_in(given)


def _take_in(given: dict[str, str]) -> AnyResponse:
    desk = the_desk()
    try:
        inbound = _inbound(given)
    except ValueError as problem:
        return _form(given, {"pasted": str(problem)}, 400)
    receipt = desk.flow.receive(inbound)
    said = "pasted_before" if receipt.duplicate else "pasted"
    if receipt.inquiry_id is None:
        return redirect(url_for("desk.home", said=said), 303)
    return redirect(url_for("desk.inquiry", inquiry_id=receipt.inquiry_id, said=said), 303)


def _inbound(given: dict[str, str]) -> Inbound:
    """Return the message; the form's ticket makes a second tap on the button the same message."""
    desk, name = the_desk(), one_line(given["name"])
    hint = desk.words.of("came_from", given["came_from"][:20])
    made = pasted(given["pasted"], one_line(given["reach"]) or name or "", hint, desk.now())
    ticket = hash_token(f"{visitor().session_id} {request.form.get('ticket', '')}")[:32]
    return replace(made, provider_id=f"paste-{ticket}", sender_name=name or made.sender_name)


def _problems(given: dict[str, str]) -> dict[str, str]:
    found: dict[str, str] = {}
    if not given["pasted"].strip():
        found["pasted"] = "paste or type what the client wrote"
    elif len(given["pasted"]) > MOST_TEXT:
        found["pasted"] = f"{len(given['pasted'])} characters: use {MOST_TEXT} at most"
    for name, most in (("name", MOST_NAME), ("reach", MOST_REACH)):
        if len(given[name]) > most:
            found[name] = f"{len(given[name])} characters: use {most} at most"
    if not given["name"].strip() and not given["reach"].strip():
        found["name"] = "give a name, a phone or a mail, so that the next message finds this one"
    return found


def _form(given: dict[str, str], problems: dict[str, str], status: int = 200) -> Response:
    ticket = request.form.get("ticket") or secrets.token_urlsafe(12)
    return page("paste.html", status=status, given=given, problems=problems, ticket=ticket)
