"""Login and logout. An unknown account costs the same words and the same time as a wrong password."""

import secrets
from datetime import datetime, timedelta

from flask import Blueprint, Response, redirect, request, url_for
from sqlalchemy import select, update
from sqlalchemy.orm import Session
from werkzeug.wrappers import Response as AnyResponse

from assistant.desk.audit import note
from assistant.desk.context import the_desk
from assistant.desk.guard import SESSION, own_path, session_token, sign, visitor
from assistant.desk.pages import page
from assistant.desk.sessions import end_session, start_session
from assistant.desk.waits import forgive, take_turn
from assistant.store.models import Designer

KNOWN = "desk-known"
_KNOWN_SECONDS = 180 * 24 * 3600
WRONG = "That mail address and password do not go together. Nothing else changed: try again."


def add_to(blueprint: Blueprint) -> None:
    """Register the routes."""
    blueprint.add_url_rule("/desk/login", "login", login, methods=["GET", "POST"])
    blueprint.add_url_rule("/desk/logout", "logout", logout, methods=["POST"])


def login() -> AnyResponse:
    """Show the login, or log in."""
    if request.method != "POST":
        return _form()
    email = tidy_email(request.form.get("email"))
    account = _account(email)
    with the_desk().store.write() as session:
        wait = take_turn(session, account, the_desk().now())
    if wait is not None:
        return _form(email, _wait_text(wait), status=429)
    designer = _designer_with(email, request.form.get("password", ""))
    if designer is None:
        return _form(email, WRONG, status=401)
    return _let_in(designer, email, account)


def logout() -> AnyResponse:
    """End the login on the server, then forget the cookie."""
    desk, who = the_desk(), visitor()
    with desk.store.write() as session:
        end_session(session, session_token() or "", desk.now())
        note(session, who, "logout")
    response = redirect(url_for("desk.login", said="logged_out"), 303)
    desk.cookies.drop(response, SESSION)
    return response


def tidy_email(given: str | None) -> str:
    """Return a mail address as it is compared: without outer spaces, in lower case, 254 characters at most."""
    return (given or "").strip().lower()[:254]


def log_in(session: Session, designer_id: int, now: datetime) -> str:
    """Begin a new login, end the one this browser had, and return the token for the cookie."""
    old = session_token()
    if old:
        end_session(session, old, now)
    return start_session(session, designer_id, now)


def _form(email: str = "", problem: str | None = None, status: int = 200) -> Response:
    onward = request.values.get("next", "")
    return page("login.html", status=status, email=email, problem=problem, onward=onward)


def _designer_with(email: str, password: str) -> Designer | None:
    """Return the designer whose password this is; the hash is done outside any transaction."""
    desk = the_desk()
    with desk.store.read() as session:
        designer = session.scalar(
            select(Designer).where(
                Designer.studio_id == desk.runtime.studio_id,
                Designer.email == email,
                Designer.disabled_at.is_(None),
            )
        )
    fits = desk.passwords.matches(designer.password_hash if designer else None, password[:1024])
    return designer if fits else None


def _let_in(designer: Designer, email: str, account: str) -> AnyResponse:
    desk, now = the_desk(), the_desk().now()
    fresh = _fresh_hash(designer)
    with desk.store.write() as session:
        forgive(session, account)
        if fresh:
            session.execute(update(Designer).where(Designer.id == designer.id).values(password_hash=fresh))
        token = log_in(session, designer.id, now)
        note(session, designer, "login")
    response = redirect(own_path(request.form.get("next")), 303)
    desk.cookies.put(response, SESSION, token)
    desk.cookies.put(response, KNOWN, _known_value(email), seconds=_KNOWN_SECONDS)
    return response


def _fresh_hash(designer: Designer) -> str | None:
    """Return a new hash when the kept one was made with older settings."""
    if not the_desk().passwords.is_old(designer.password_hash):
        return None
    return the_desk().passwords.hash(request.form.get("password", "")[:1024])


def _account(email: str) -> str:
    """Return whose failures are counted: the account's, or this browser's if it logged into it before."""
    mark, _, seal = (the_desk().cookies.get(request, KNOWN) or "").partition(".")
    if mark and secrets.compare_digest(seal.encode(), _seal(mark, email).encode()):
        return f"{mark} {email}"[:254]
    return email


def _known_value(email: str) -> str:
    mark = secrets.token_hex(8)
    return f"{mark}.{_seal(mark, email)}"


def _seal(mark: str, email: str) -> str:
    return sign("known", f"{mark}\0{email}")


def _wait_text(wait: timedelta) -> str:
    seconds = max(1, round(wait.total_seconds()))
    count, unit = (seconds, "second") if seconds < 90 else (round(seconds / 60), "minute")
    return f"Too many tries. Wait {count} {unit}{'s' if count != 1 else ''}, then try again."
