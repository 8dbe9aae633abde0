"""Messages to send: rows written in the transaction of the decision, taken up later by the sender."""

from datetime import datetime

from sqlalchemy.orm import Session

from assistant.flow.drafts import fingerprint
from assistant.flow.errors import NothingToSend
from assistant.store.models import Client, Draft, Inquiry, Outgoing

LONGEST = {"sms": 1600, "email": 100_000, "paste": 100_000}


def put_outgoing(
    session: Session,
    inquiry: Inquiry,
    *,
    subject: str | None,
    text: str,
    purpose: str,
    own_address: str,
    recipient: str,
    needs_yes: bool,
    approved_by: int | None,
    due_at: datetime,
    now: datetime,
    draft: Draft | None = None,
    headers: dict[str, str] | None = None,
) -> Outgoing:
    """Write one message to send.

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
        sender=own_address,
        recipient=recipient,
        subject=subject,
        text=text,
        fingerprint=fingerprint(subject, text),
        headers=headers or {},
        purpose=purpose,
        needs_yes=needs_yes,
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
