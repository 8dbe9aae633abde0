"""Messages to send: rows written in the transaction of the decision, taken up later by the sender."""

from datetime import datetime

from sqlalchemy.orm import Session

from assistant.flow.addresses import Addresses, recipient_of
from assistant.flow.errors import NothingToSend
from assistant.store.models import Client, Draft, Inquiry, Outgoing
from assistant.store.parcels import fingerprint

LONGEST = {"sms": 1600, "email": 100_000, "paste": 100_000}


def put_outgoing(
    session: Session,
    inquiry: Inquiry,
    addresses: Addresses,
    *,
    subject: str | None,
    text: str,
    purpose: str,
    due_at: datetime,
    now: datetime,
    approved_by: int | None = None,
    draft: Draft | None = None,
) -> Outgoing:
    """Write one message to send, to where the client last wrote from; without ``approved_by`` it needs no yes.

    Raises NothingToSend when the text is empty, longer than the channel takes, or the client has opted out; the
    confirmation of that opt-out alone may still go.
    """
    check_sendable(session, inquiry, text, purpose)
    row = Outgoing(
        studio_id=inquiry.studio_id,
        inquiry_id=inquiry.id,
        client_id=inquiry.client_id,
        draft_id=draft.id if draft else None,
        channel=inquiry.channel,
        sender=addresses.own(inquiry.channel),
        recipient=recipient_of(session, inquiry),
        subject=subject,
        text=text,
        fingerprint=fingerprint(subject, text),
        headers=thread_headers(inquiry),
        purpose=purpose,
        needs_yes=approved_by is not None,
        approved_by=approved_by,
        state="waiting",
        due_at=due_at,
        created_at=now,
    )
    session.add(row)
    session.flush()
    return row


def check_sendable(session: Session, inquiry: Inquiry, text: str, purpose: str) -> None:
    """Raise NothingToSend when this text may not go to this client."""
    if not text.strip():
        raise NothingToSend("the reply is empty: write something, or choose to answer yourself")
    most = LONGEST[inquiry.channel]
    if len(text) > most:
        raise NothingToSend(f"the reply has {len(text)} characters, {most} is the most here: shorten it")
    client = session.get_one(Client, inquiry.client_id)
    if client.stopped_at and purpose != "opt_out":
        raise NothingToSend("this client asked for no more messages: reach them another way, or wait for START")


def thread_headers(inquiry: Inquiry) -> dict[str, str]:
    """Return In-Reply-To and References of a mail answer: the client's last message and what it referred to."""
    heard = [m for m in inquiry.messages if m.direction == "in" and m.channel == "email" and not m.automatic]
    if inquiry.channel != "email" or not heard:
        return {}
    last = heard[-1]
    chain = [*map(str, last.thread_ids), last.provider_id][-10:]
    return {"In-Reply-To": last.provider_id, "References": " ".join(dict.fromkeys(chain))}
