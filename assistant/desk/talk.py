"""The conversation of an inquiry in the order it happened, the client's words marked with the facts they gave."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from assistant.desk.marks import Piece, cut
from assistant.store.models import Inquiry, Message, Outgoing


@dataclass(frozen=True)
class Turn:
    """One message: ``mine`` when the studio's; ``state`` is its way out (waiting, sent, failed ...), "" for others."""

    mine: bool
    at: datetime
    channel: str
    subject: str | None
    pieces: tuple[Piece, ...]
    state: str = ""
    delivery: str = ""
    error: str = ""
    by_itself: bool = False
    note: str = ""
    held: int | None = None  # the outgoing message whose arrival only a person can tell


def client_texts(inquiry: Inquiry) -> list[str]:
    """Return the client's own messages as they were read: what the facts' "from" counts."""
    return [message.read_text for message in inquiry.messages if message.from_client]


def turns(inquiry: Inquiry, sends: Sequence[Outgoing], facts: Mapping[str, Any]) -> list[Turn]:
    """Return all messages by time, the client's words marked by ``facts``."""
    heard = [message for message in inquiry.messages if message.from_client]
    marked = cut(client_texts(inquiry), facts)
    told = [_of_message(message, tuple(pieces)) for message, pieces in zip(heard, marked, strict=True)]
    known = {(send.channel, send.provider_id) for send in sends}
    other = [
        _of_message(message, (Piece(message.text),))
        for message in inquiry.messages
        if not message.from_client and (message.channel, message.provider_id) not in known
    ]
    return sorted([*told, *other, *(_of_send(send) for send in sends)], key=lambda turn: turn.at)


def how_many_to_show(talk: Sequence[Turn], waiting: bool) -> int:
    """Return how many of the last turns stand open: from the client's last own words on if a reply waits, else 3."""
    if waiting:
        for count, turn in enumerate(reversed(talk), start=1):
            if not turn.mine and not turn.by_itself:
                return count
    return 3


def _of_message(message: Message, pieces: tuple[Piece, ...]) -> Turn:
    return Turn(
        mine=message.direction != "in",
        at=message.received_at,
        channel=message.channel,
        subject=None if message.from_client else message.subject,
        pieces=pieces,
        by_itself=message.automatic,
        note=message.note or "",
    )


def _of_send(send: Outgoing) -> Turn:
    return Turn(
        mine=True,
        at=send.sent_at or send.created_at,
        channel=send.channel,
        subject=send.subject,
        pieces=(Piece(send.text),),
        state=send.state,
        delivery=send.delivery or "",
        error=send.error or "",
        by_itself=not send.needs_yes and send.approved_by is None,
        held=send.id if send.state == "unsure" and send.held_at else None,
    )
