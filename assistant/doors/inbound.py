"""The one shape every door turns its messages into."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True)
class Inbound:
    """One message as it arrived.

    ``channel`` is sms, email or paste; ``provider_id`` is what makes a second delivery recognisable (MessageSid,
    Message-ID, a random id for a pasted text). ``text`` is what the person wrote now, ``whole_text`` all that came,
    quoted history included. ``automatic`` marks mail that must never be answered (RFC 3834). ``thread_ids`` are the
    Message-IDs that In-Reply-To and References name. ``received_at`` is aware.
    """

    channel: str
    provider_id: str
    sender: str
    recipient: str
    text: str
    received_at: datetime
    subject: str | None = None
    sender_name: str | None = None
    whole_text: str | None = None
    automatic: bool = False
    thread_ids: tuple[str, ...] = ()
    raw: bytes | None = None
    note: str | None = None
