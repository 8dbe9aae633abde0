"""The page behind a one-use set-up link: name, mail and a good password, then straight to the desk."""

from flask import Blueprint, Response, abort, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from assistant.desk.audit import note
from assistant.desk.context import the_desk
from assistant.desk.guard import SESSION
from assistant.desk.login_page import log_in, tidy_email
from assistant.desk.pages import page
from assistant.desk.setup_links import EmailTaken, open_link, use_link
from assistant.store.models import Designer


def add_to(blueprint: Blueprint) -> None:
    """Register the route."""
    blueprint.add_url_rule("/desk/setup/<token>", "setup", setup, methods=["GET", "POST"])


def setup(token: str) -> AnyResponse:
    """Show the form, or make the designer; a used or old link says so and nothing more."""
    with the_desk().store.read() as session:
        if open_link(session, token, the_desk().now()) is None:
            return page("setup_gone.html", status=404)
    if request.method != "POST":
        return _form({}, {})
    given = {name: request.form.get(name, "") for name in ("name", "email", "password", "again")}
    given["name"], given["email"] = given["name"].strip(), tidy_email(given["email"])
    problems = _problems(given)
    return _form(given, problems, 400) if problems else _make(token, given)


def _make(token: str, given: dict[str, str]) -> AnyResponse:
    desk, now = the_desk(), the_desk().now()
    kept = desk.passwords.hash(given["password"])
    try:
        with desk.store.write() as session:
            link = open_link(session, token, now, lock=True) or abort(409)
            made = use_link(session, link, email=given["email"], name=given["name"], password_hash=kept, now=now)
            login = log_in(session, made, now)
            note(session, session.get_one(Designer, made), "set-up")
    except EmailTaken as problem:
        return _form(given, {"email": str(problem)}, 409)
    response = redirect(url_for("desk.home", said="welcome"), 303)
    desk.cookies.put(response, SESSION, login)
    return response


def _problems(given: dict[str, str]) -> dict[str, str]:
    found: dict[str, str] = {}
    if not 1 <= len(given["name"]) <= 200:
        found["name"] = "write the name your colleagues know, 200 characters at most"
    local, at, host = given["email"].partition("@")
    if not (local and at and host) or any(character.isspace() for character in given["email"]):
        found["email"] = "this is no mail address: write it as name@example.com"
    own = [given["name"], given["email"], the_desk().runtime.rooms.studio.name]
    refused = the_desk().passwords.why_refused(given["password"], own)
    if refused:
        found["password"] = refused
    elif given["password"] != given["again"]:
        found["again"] = "the two passwords differ: type the same one twice"
    return found


def _form(given: dict[str, str], problems: dict[str, str], status: int = 200) -> Response:
    return page("setup.html", status=status, given=given, problems=problems)
