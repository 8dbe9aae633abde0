"""The one-use link by which a designer gets her first password."""

import secrets
from datetime import datetime, timedelta

from sqlalchemy import select
from sqlalchemy.orm import Session

from assistant.desk.sessions import hash_token
from assistant.store import Store
from assistant.store.models import Designer, SetupLink

LASTS = timedelta(hours=24)


class EmailTaken(ValueError):
    """A designer of this studio has that mail address already."""


def make_setup_link(store: Store, studio_id: int, now: datetime, lasts: timedelta = LASTS) -> str:
    """Write a new link and return its token; only the token's hash is kept. ``setup_path`` gives its address."""
    token = secrets.token_urlsafe(24)
    with store.write() as session:
        session.add(SetupLink(studio_id=studio_id, token_hash=hash_token(token), expires_at=now + lasts))
    return token


def setup_path(token: str) -> str:
    """Return the path of the page that a token opens, to be put behind the public address."""
    return f"/desk/setup/{token}"


def open_link(session: Session, token: str, now: datetime, *, lock: bool = False) -> SetupLink | None:
    """Return the link if it can still be used."""
    question = select(SetupLink).where(
        SetupLink.token_hash == hash_token(token), SetupLink.used_at.is_(None), SetupLink.expires_at > now
    )
    return session.scalar(question.with_for_update() if lock else question)


def use_link(session: Session, link: SetupLink, *, email: str, name: str, password_hash: str, now: datetime) -> int:
    """Use the link up and return the new designer's id; raise EmailTaken when the address is known."""
    taken = session.scalar(select(Designer.id).where(Designer.studio_id == link.studio_id, Designer.email == email))
    if taken:
        raise EmailTaken("this mail address has a login already: log in, or use another address")
    link.used_at = now
    designer = Designer(studio_id=link.studio_id, email=email, name=name, password_hash=password_hash, created_at=now)
    session.add(designer)
    session.flush()
    return designer.id
