"""Logins that live in the store: the browser holds a random token, the store only its hash."""

import hashlib
import hmac
import logging
import secrets
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from assistant.store import StoreUnavailable
from assistant.store.models import Designer, DeskSession

if TYPE_CHECKING:
    from assistant.store import Store

log = logging.getLogger(__name__)

IDLE = timedelta(minutes=30)
WHOLE = timedelta(hours=12)
_TOUCH = timedelta(minutes=1)


@dataclass(frozen=True)
class Visitor:
    """Who is logged in: the designer, her studio, and the token her forms must carry."""

    session_id: int
    designer_id: int
    studio_id: int
    name: str
    form_token: str


def start_session(session: Session, designer_id: int, now: datetime) -> str:
    """Begin a login and return the token for the cookie (256 random bits)."""
    token = secrets.token_urlsafe(32)
    session.add(
        DeskSession(
            designer_id=designer_id,
            token_hash=hash_token(token),
            csrf_secret=secrets.token_hex(32),
            created_at=now,
            seen_at=now,
        )
    )
    return token


def find_visitor(store: "Store", token: str | None, now: datetime) -> Visitor | None:
    """Return who holds the token, or None when the login is unknown, ended, idle for 30 min or 12 h old."""
    if not token:
        return None
    with store.read() as session:
        found = _alive(session, token, now)
    if found is None:
        return None
    login, designer = found
    if now - login.seen_at >= _TOUCH:
        _touch(store, login.id, now)
    return Visitor(login.id, designer.id, designer.studio_id, designer.name, form_token(login.csrf_secret))


def end_session(session: Session, token: str, now: datetime) -> None:
    """End a login on the server, so that a copy of its cookie opens nothing."""
    session.execute(
        update(DeskSession)
        .where(DeskSession.token_hash == hash_token(token), DeskSession.ended_at.is_(None))
        .values(ended_at=now)
    )


def form_token(secret: str) -> str:
    """Return the token that a form of this login must carry."""
    return hmac.new(secret.encode(), b"desk form", hashlib.sha256).hexdigest()


def hash_token(token: str) -> str:
    """Return what the store keeps of a token; it is random, so a plain hash is enough."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()


def _alive(session: Session, token: str, now: datetime) -> tuple[DeskSession, Designer] | None:
    found = session.execute(
        select(DeskSession, Designer)
        .join(Designer, Designer.id == DeskSession.designer_id)
        .where(
            DeskSession.token_hash == hash_token(token),
            DeskSession.ended_at.is_(None),
            DeskSession.seen_at > now - IDLE,
            DeskSession.created_at > now - WHOLE,
            Designer.disabled_at.is_(None),
        )
    ).first()
    return (found[0], found[1]) if found else None


def _touch(store: "Store", login_id: int, now: datetime) -> None:
    """Note that the login is in use, once a minute at most; a page is shown even when that can't be noted."""
    try:
        with store.write(alone=False) as session:
            session.execute(update(DeskSession).where(DeskSession.id == login_id).values(seen_at=now))
    except StoreUnavailable as problem:
        log.warning("login use not noted: %s", type(problem).__name__)
