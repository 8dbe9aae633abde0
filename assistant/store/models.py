"""The tables. Every row belongs to a studio; times are UTC; JSON columns hold the public shapes of facts and quotes."""

from datetime import datetime
from typing import Any

from sqlalchemy import ForeignKey, Index, String, Text, UniqueConstraint, text
from sqlalchemy.orm import Mapped, mapped_column, relationship

from assistant.store.base import Base as Base
from assistant.store.base import Json, key, studio_key
from assistant.store.base import UtcTime as UtcTime
from assistant.store.models_calendar import Booking as Booking
from assistant.store.models_calendar import CalendarFeed as CalendarFeed
from assistant.store.models_calendar import CalendarSource as CalendarSource


class Studio(Base):
    """A studio: the owner of every other row."""

    __tablename__ = "studio"
    id: Mapped[int] = key()
    name: Mapped[str] = mapped_column(String(200))
    created_at: Mapped[datetime]


class Designer(Base):
    """A person who may approve; the password is kept as an argon2id hash."""

    __tablename__ = "designer"
    __table_args__ = (UniqueConstraint("studio_id", "email"),)
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    email: Mapped[str] = mapped_column(String(254))
    name: Mapped[str] = mapped_column(String(200))
    password_hash: Mapped[str] = mapped_column(String(300))
    created_at: Mapped[datetime]
    disabled_at: Mapped[datetime | None]


class SetupLink(Base):
    """A one-use link by which the first designer sets a password; only the token's hash is kept."""

    __tablename__ = "setup_link"
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    token_hash: Mapped[str] = mapped_column(String(64), unique=True)
    expires_at: Mapped[datetime]
    used_at: Mapped[datetime | None]


class DeskSession(Base):
    """A login; only the hash of the cookie's token is kept, so a copy of the store opens nothing."""

    __tablename__ = "desk_session"
    id: Mapped[int] = key()
    designer_id: Mapped[int] = mapped_column(ForeignKey("designer.id"), index=True)
    token_hash: Mapped[str] = mapped_column(String(64), unique=True)
    csrf_secret: Mapped[str] = mapped_column(String(64))
    created_at: Mapped[datetime]
    seen_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]


class LoginWait(Base):
    """Failed logins of one account name; the wait doubles with each."""

    __tablename__ = "login_wait"
    account: Mapped[str] = mapped_column(String(254), primary_key=True)
    failures: Mapped[int] = mapped_column(default=0)
    wait_until: Mapped[datetime | None]


class Client(Base):
    """A person who wrote to the studio. ``stopped_at`` is set when they opted out: then nothing more is sent."""

    __tablename__ = "client"
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    name: Mapped[str | None] = mapped_column(String(200))
    language: Mapped[str | None] = mapped_column(String(10))
    stopped_at: Mapped[datetime | None]
    created_at: Mapped[datetime]
    addresses: Mapped[list["Address"]] = relationship(back_populates="client")


class Address(Base):
    """One way to reach a client: an E.164 number, a mail address, or a label for pasted messages."""

    __tablename__ = "address"
    __table_args__ = (UniqueConstraint("studio_id", "channel", "value"),)
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    client_id: Mapped[int] = mapped_column(ForeignKey("client.id"), index=True)
    channel: Mapped[str] = mapped_column(String(10))
    value: Mapped[str] = mapped_column(String(254))
    client: Mapped[Client] = relationship(back_populates="addresses")


class Inquiry(Base):
    """One event a client asks about, from the first message to the end.

    ``facts``, ``verdict`` and ``quote`` hold the shapes that ``assistant read|dates|price`` print; ``sources`` holds
    the client's words behind each fact as [message index, start, end].
    ``version`` grows with every change, so that a page shown earlier can be told apart.
    """

    __tablename__ = "inquiry"
    __table_args__ = (Index("ix_inquiry_state", "studio_id", "state", "updated_at"),)
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    client_id: Mapped[int] = mapped_column(ForeignKey("client.id"), index=True)
    channel: Mapped[str] = mapped_column(String(10))
    state: Mapped[str] = mapped_column(String(12), default="open")
    closed_reason: Mapped[str | None] = mapped_column(String(200))
    language: Mapped[str] = mapped_column(String(10), default="en")
    kind: Mapped[str] = mapped_column(String(12), default="inquiry")
    facts: Mapped[dict[str, Any]] = mapped_column(Json, default=dict)
    sources: Mapped[dict[str, Any]] = mapped_column(Json, default=dict)
    verdict: Mapped[dict[str, Any] | None] = mapped_column(Json)
    quote: Mapped[dict[str, Any] | None] = mapped_column(Json)
    step: Mapped[dict[str, Any] | None] = mapped_column(Json)
    asked: Mapped[dict[str, Any]] = mapped_column(Json, default=dict)
    rounds: Mapped[int] = mapped_column(default=0)
    introduced: Mapped[bool] = mapped_column(default=False)
    subject: Mapped[str | None] = mapped_column(String(500))
    version: Mapped[int] = mapped_column(default=1)
    created_at: Mapped[datetime]
    updated_at: Mapped[datetime]
    client: Mapped[Client] = relationship()
    messages: Mapped[list["Message"]] = relationship(back_populates="inquiry", order_by="Message.id")
    drafts: Mapped[list["Draft"]] = relationship(back_populates="inquiry", order_by="Draft.id")
    tasks: Mapped[list["Task"]] = relationship(back_populates="inquiry", order_by="Task.id")
    corrections: Mapped[list["Correction"]] = relationship(order_by="Correction.id")


class Message(Base):
    """One message of a conversation, in or out. ``text`` is what the person wrote; ``whole_text`` what arrived.

    (studio, channel, provider_id) is unique for good: the same message delivered twice is one message.
    """

    __tablename__ = "message"
    __table_args__ = (UniqueConstraint("studio_id", "channel", "direction", "provider_id"),)
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    inquiry_id: Mapped[int | None] = mapped_column(ForeignKey("inquiry.id"), index=True)
    direction: Mapped[str] = mapped_column(String(3))
    channel: Mapped[str] = mapped_column(String(10))
    provider_id: Mapped[str] = mapped_column(String(500))
    sender: Mapped[str] = mapped_column(String(254))
    recipient: Mapped[str] = mapped_column(String(254))
    subject: Mapped[str | None] = mapped_column(String(1000))
    text: Mapped[str] = mapped_column(Text)
    whole_text: Mapped[str | None] = mapped_column(Text)
    automatic: Mapped[bool] = mapped_column(default=False)
    thread_ids: Mapped[list[Any]] = mapped_column(Json, default=list)
    raw: Mapped[bytes | None] = mapped_column(deferred=True)  # megabytes: read only when asked for
    note: Mapped[str | None] = mapped_column(String(500))
    received_at: Mapped[datetime]
    inquiry: Mapped[Inquiry | None] = relationship(back_populates="messages")

    @property
    def from_client(self) -> bool:
        """Whether a person wrote it to us: only such messages are read and counted in the facts' "from"."""
        return self.direction == "in" and not self.automatic

    @property
    def read_text(self) -> str:
        """The characters that reading counts: a mail's own subject first, then what the person wrote."""
        subject = (self.subject or "").strip()
        if self.channel != "email" or not subject or self.thread_ids:
            return self.text
        return f"Subject: {subject}\n\n{self.text}"


class Correction(Base):
    """Facts that the designer set by hand, valid from the message they followed."""

    __tablename__ = "correction"
    id: Mapped[int] = key()
    inquiry_id: Mapped[int] = mapped_column(ForeignKey("inquiry.id"), index=True)
    after_message_id: Mapped[int] = mapped_column(ForeignKey("message.id"))
    facts: Mapped[dict[str, Any]] = mapped_column(Json)
    designer_id: Mapped[int | None] = mapped_column(ForeignKey("designer.id"))
    made_at: Mapped[datetime]


class Draft(Base):
    """A reply that waits for the designer's yes, with the figures it was made from.

    ``state``: waiting, kept (for later), approved, replaced (a newer one came), dropped (answered otherwise).
    ``fingerprint`` is the SHA-256 of subject and text: the yes is to exactly that text.
    """

    __tablename__ = "draft"
    __table_args__ = (
        UniqueConstraint("inquiry_id", "version"),
        Index(
            "one_open_draft",
            "inquiry_id",
            unique=True,
            sqlite_where=text("state IN ('waiting', 'kept')"),
            postgresql_where=text("state IN ('waiting', 'kept')"),
        ),
    )
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    inquiry_id: Mapped[int] = mapped_column(ForeignKey("inquiry.id"), index=True)
    version: Mapped[int]
    state: Mapped[str] = mapped_column(String(10), default="waiting")
    subject: Mapped[str | None] = mapped_column(String(500))
    text: Mapped[str] = mapped_column(Text)
    fingerprint: Mapped[str] = mapped_column(String(64))
    parts: Mapped[int] = mapped_column(default=1)
    purpose: Mapped[str] = mapped_column(String(20))
    quote: Mapped[dict[str, Any] | None] = mapped_column(Json)
    verdict: Mapped[dict[str, Any] | None] = mapped_column(Json)
    rules_version: Mapped[str] = mapped_column(String(40))
    reasons: Mapped[list[Any]] = mapped_column(Json, default=list)
    created_at: Mapped[datetime]
    decided_at: Mapped[datetime | None]
    decided_by: Mapped[int | None] = mapped_column(ForeignKey("designer.id"))
    inquiry: Mapped[Inquiry] = relationship(back_populates="drafts")
    decider: Mapped[Designer | None] = relationship()


class Outgoing(Base):
    """A message to send, written in the transaction of the decision to send it.

    ``state``: waiting, claimed (until ``claimed_until``), sent, failed (for good), unsure (to be looked up before
    any repeat), stopped (the client opted out meanwhile). ``draft_id`` is unique: one yes sends once.
    An unsure row with ``held_at`` waits for a person; ``tried_at`` is when the provider was last called.
    ``claim`` counts the claims, so that a sender whose lease ran out is told apart from the one that took over.
    ``delivery`` is the carrier's last word: queued, sent, delivered, undelivered or failed; it only moves forward.
    """

    __tablename__ = "outgoing"
    __table_args__ = (
        Index(
            "ix_outgoing_due",
            "due_at",
            "id",
            sqlite_where=text("state IN ('waiting', 'claimed', 'unsure')"),
            postgresql_where=text("state IN ('waiting', 'claimed', 'unsure')"),
        ),
    )
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    inquiry_id: Mapped[int | None] = mapped_column(ForeignKey("inquiry.id"), index=True)
    client_id: Mapped[int] = mapped_column(ForeignKey("client.id"), index=True)
    draft_id: Mapped[int | None] = mapped_column(ForeignKey("draft.id"), unique=True)
    channel: Mapped[str] = mapped_column(String(10))
    sender: Mapped[str] = mapped_column(String(254))
    recipient: Mapped[str] = mapped_column(String(254))
    subject: Mapped[str | None] = mapped_column(String(500))
    text: Mapped[str] = mapped_column(Text)
    fingerprint: Mapped[str] = mapped_column(String(64))
    headers: Mapped[dict[str, Any]] = mapped_column(Json, default=dict)
    purpose: Mapped[str] = mapped_column(String(20))
    needs_yes: Mapped[bool]
    approved_by: Mapped[int | None] = mapped_column(ForeignKey("designer.id"))
    state: Mapped[str] = mapped_column(String(10), default="waiting")
    due_at: Mapped[datetime]
    claimed_until: Mapped[datetime | None]
    claim: Mapped[int] = mapped_column(default=0)
    attempts: Mapped[int] = mapped_column(default=0)
    tried_at: Mapped[datetime | None]
    held_at: Mapped[datetime | None]
    provider_id: Mapped[str | None] = mapped_column(String(500), index=True)
    delivery: Mapped[str | None] = mapped_column(String(12))
    error: Mapped[str | None] = mapped_column(String(500))
    created_at: Mapped[datetime]
    sent_at: Mapped[datetime | None]
    inquiry: Mapped[Inquiry | None] = relationship()


class Task(Base):
    """Something only the designer can do, with the reason and when it is due; ``done_at`` ends it."""

    __tablename__ = "task"
    __table_args__ = (Index("ix_task_open", "studio_id", "done_at"),)
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    inquiry_id: Mapped[int | None] = mapped_column(ForeignKey("inquiry.id"), index=True)
    kind: Mapped[str] = mapped_column(String(20))
    reason: Mapped[str] = mapped_column(String(500))
    due_at: Mapped[datetime | None]
    created_at: Mapped[datetime]
    done_at: Mapped[datetime | None]
    done_by: Mapped[int | None] = mapped_column(ForeignKey("designer.id"))
    inquiry: Mapped[Inquiry | None] = relationship(back_populates="tasks")


class AuditLine(Base):
    """Who did what when: logins, refusals, approvals, sends, price and fact changes. No message bodies."""

    __tablename__ = "audit_line"
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    at: Mapped[datetime]
    who: Mapped[str] = mapped_column(String(100))
    what: Mapped[str] = mapped_column(String(40))
    inquiry_id: Mapped[int | None] = mapped_column(ForeignKey("inquiry.id"), index=True)
    detail: Mapped[dict[str, Any]] = mapped_column(Json, default=dict)
