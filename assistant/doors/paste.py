"""A message the designer pastes in from somewhere else: a social network, a voice mail, a talk at the counter."""

import uuid
from datetime import datetime

from assistant.doors.clean import one_line, storable
from assistant.doors.inbound import Inbound
from assistant.doors.phone import e164

LONGEST = 20_000


def pasted(text: str, sender: str, channel_hint: str, now: datetime) -> Inbound:
    """Return the pasted text as a message of its own; pasting the same text twice makes two.

    ``sender`` is a number, a mail address or whatever she calls the client; ``channel_hint`` says where it came from.
    Raises ValueError when there is no text.
    """
    whole = storable(text).replace("\r\n", "\n").strip()
    if not whole:
        raise ValueError("there is no text: paste the client's message")
    name = one_line(sender, 200)
    hint = one_line(channel_hint, 60)
    return Inbound(
        channel="paste",
        provider_id=f"paste-{uuid.uuid4()}",
        sender=_address(name),
        recipient="studio",
        text=whole[:LONGEST],
        received_at=now,
        sender_name=name or None,
        whole_text=whole if len(whole) > LONGEST else None,
        note=f"pasted in, came by {hint}" if hint else "pasted in",
    )


def _address(name: str) -> str:
    """Two people without a name are two people; the same name is the same client."""
    if not name:
        return f"unnamed-{uuid.uuid4().hex[:8]}"
    return name.lower() if "@" in name else e164(name)
