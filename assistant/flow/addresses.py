"""Where messages go and where they come from."""

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from assistant.store.models import Address, Inquiry, Message


@dataclass(frozen=True)
class Addresses:
    """The studio's own number and mail address, used as sender."""

    sms: str
    email: str

    def own(self, channel: str) -> str:
        """Return the sender's address for a channel; a pasted conversation has none of ours."""
        return {"sms": self.sms, "email": self.email}.get(channel, "studio")


def recipient_of(session: Session, inquiry: Inquiry) -> str:
    """Return the address the client last wrote from on the inquiry's channel."""
    last = session.scalar(
        select(Message.sender)
        .where(Message.inquiry_id == inquiry.id, Message.direction == "in", Message.channel == inquiry.channel)
        .order_by(Message.id.desc())
        .limit(1)
    )
    if last:
        return last
    return session.scalars(
        select(Address.value).where(Address.client_id == inquiry.client_id, Address.channel == inquiry.channel)
    ).one()
