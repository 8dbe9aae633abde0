"""Who wrote, and which inquiry the message belongs to."""

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from assistant.doors.inbound import Inbound
from assistant.store.models import Address, Client, Inquiry, Message

LIVE_STATES = ("open", "asking", "drafted", "quoted", "accepted", "booked")


def known_message(session: Session, studio_id: int, inbound: Inbound) -> Message | None:
    """Return the stored message if this one was delivered before."""
    return session.scalar(
        select(Message).where(
            Message.studio_id == studio_id,
            Message.channel == inbound.channel,
            Message.direction == "in",
            Message.provider_id == inbound.provider_id,
        )
    )


def known_client(session: Session, studio_id: int, inbound: Inbound) -> Client | None:
    """Return the client behind the sender's address, locked until the transaction ends, or None for a stranger."""
    address = session.scalar(
        select(Address).where(
            Address.studio_id == studio_id,
            Address.channel == inbound.channel,
            Address.value == inbound.sender[:254],
        )
    )
    return session.get(Client, address.client_id, with_for_update=True) if address else None


def client_of(session: Session, studio_id: int, inbound: Inbound, now: datetime) -> Client:
    """Return the client behind the sender's address, made if new."""
    known = known_client(session, studio_id, inbound)
    if known:
        return known
    called = (inbound.sender_name or "")[:200] or None
    client = Client(studio_id=studio_id, name=called, language=None, stopped_at=None, created_at=now)
    session.add(client)
    session.flush()
    session.add(Address(studio_id=studio_id, client_id=client.id, channel=inbound.channel, value=inbound.sender[:254]))
    session.flush()
    return client


def inquiry_of(session: Session, client: Client, inbound: Inbound) -> Inquiry | None:
    """Return the live inquiry a message continues: by mail thread, else the client's latest; None starts one."""
    by_thread = _by_thread(session, client, inbound)
    if by_thread:
        return by_thread
    return session.scalar(
        select(Inquiry)
        .where(Inquiry.client_id == client.id, Inquiry.state.in_(LIVE_STATES))
        .order_by(Inquiry.updated_at.desc(), Inquiry.id.desc())
        .limit(1)
    )


def _by_thread(session: Session, client: Client, inbound: Inbound) -> Inquiry | None:
    """A Message-ID that we sent or got names the thread, but only for the same client: anyone can write a header."""
    if not inbound.thread_ids:
        return None
    return session.scalar(
        select(Inquiry)
        .join(Message, Message.inquiry_id == Inquiry.id)
        .where(
            Inquiry.client_id == client.id,
            Inquiry.state.in_(LIVE_STATES),
            Message.channel == inbound.channel,
            Message.provider_id.in_(inbound.thread_ids),
        )
        .order_by(Inquiry.id.desc())
        .limit(1)
    )


def start_inquiry(session: Session, client: Client, inbound: Inbound, now: datetime) -> Inquiry:
    """Open a new inquiry for a client."""
    inquiry = Inquiry(
        studio_id=client.studio_id,
        client_id=client.id,
        channel=inbound.channel,
        subject=(inbound.subject or None) and inbound.subject[:500],
        language=client.language or "en",
        created_at=now,
        updated_at=now,
    )
    session.add(inquiry)
    session.flush()
    return inquiry


def store_message(session: Session, studio_id: int, inbound: Inbound) -> Message:
    """Write the inbound message as it came; it belongs to no inquiry yet."""
    message = Message(
        studio_id=studio_id,
        direction="in",
        channel=inbound.channel,
        provider_id=inbound.provider_id[:500],
        sender=inbound.sender[:254],
        recipient=inbound.recipient[:254],
        subject=inbound.subject[:1000] if inbound.subject else None,
        text=inbound.text,
        whole_text=inbound.whole_text,
        automatic=inbound.automatic,
        thread_ids=list(inbound.thread_ids),
        raw=inbound.raw,
        note=inbound.note[:500] if inbound.note else None,
        received_at=inbound.received_at,
    )
    session.add(message)
    session.flush()
    return message
