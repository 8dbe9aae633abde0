"""What can't be read is kept as it came, and shown to the designer; a message is never dropped."""

import hashlib
from datetime import datetime

from sqlalchemy import exists, select

from assistant.store import Store
from assistant.store.models import Message, Task


def keep_raw(store: Store, studio_id: int, *, channel: str, raw: bytes, why: str, now: datetime) -> None:
    """Store bytes that are no readable message, once however often they come, with a task that says why."""
    mark = f"raw:{hashlib.sha256(raw).hexdigest()}"
    with store.write() as session:
        same = exists().where(
            Message.studio_id == studio_id, Message.channel == channel, Message.provider_id == mark
        )
        if session.scalar(select(same)):
            return
        session.add(
            Message(
                studio_id=studio_id,
                direction="in",
                channel=channel,
                provider_id=mark,
                sender="unknown",
                recipient="studio",
                text="",
                automatic=True,
                raw=raw,
                note=f"kept as it came: {why}"[:500],
                received_at=now,
            )
        )
        session.add(
            Task(
                studio_id=studio_id,
                kind="unreadable",
                reason=f"A message by {channel} could not be read ({why}): look into your own inbox for it."[:500],
                created_at=now,
            )
        )


def own_mail_id(store: Store, studio_id: int, provider_id: str, raw: bytes) -> str:
    """Return an id for a mail that is not taken by another mail: some programs use one Message-ID for all.

    The same bytes keep the same id, so a second delivery is still recognised; so does a copy that came another way,
    as long as its text is the same.
    """
    mark = f"{provider_id[:400]}#{content_mark(raw)}"
    with store.read() as session:
        held = session.scalars(
            select(Message.raw).where(
                Message.studio_id == studio_id,
                Message.channel == "email",
                Message.direction == "in",
                Message.provider_id == provider_id,
            )
        ).first()
    return provider_id if held is None or content_mark(held) == content_mark(raw) else mark


def content_mark(raw: bytes) -> str:
    """Return a short hash of a mail without its headers, which change with every way it takes."""
    _, _, body = raw.replace(b"\r\n", b"\n").partition(b"\n\n")
    return hashlib.sha256(body.strip()).hexdigest()[:16]
