"""The calendar's tables: claims on days, the foreign calendars they were read from, the address it can be read at."""

from datetime import date, datetime
from typing import Any

from sqlalchemy import ForeignKey, Index, String, text
from sqlalchemy.orm import Mapped, mapped_column

from assistant.store.base import Base, Json, key, studio_key


class Booking(Base):
    """A claim on the calendar: ``kind`` job, hold (ends at ``expires_at``) or block (the studio's own).

    A job or hold whose stretch is one whole day of its zone has no known time of day. ``build_on`` is the day it is
    built on, the day before if not said; ``takes`` counts what it needs of each resource; ``strike_at`` is when its
    take-down is planned; a job keeps the deposit that made it one. A block with a ``source_id`` was read from that
    calendar and goes when it is read again.
    """

    __tablename__ = "booking"
    __table_args__ = (
        Index("ix_booking_day", "studio_id", "day"),
        Index(
            "ix_booking_live_hold",
            "studio_id",
            "expires_at",
            sqlite_where=text("kind = 'hold' AND ended_at IS NULL"),
            postgresql_where=text("kind = 'hold' AND ended_at IS NULL"),
        ),
    )
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    inquiry_id: Mapped[int | None] = mapped_column(ForeignKey("inquiry.id"), index=True)
    source_id: Mapped[int | None] = mapped_column(ForeignKey("calendar_source.id"), index=True)
    kind: Mapped[str] = mapped_column(String(6))
    title: Mapped[str] = mapped_column(String(200))
    day: Mapped[date]
    start_at: Mapped[datetime]
    end_at: Mapped[datetime]
    zone: Mapped[str] = mapped_column(String(60))
    crew_minutes: Mapped[int | None]
    build_minutes: Mapped[int | None]
    build_on: Mapped[date | None]
    zip: Mapped[str | None] = mapped_column(String(10))
    takes: Mapped[dict[str, Any] | None] = mapped_column(Json)
    strike_at: Mapped[datetime | None]
    deposit_cents: Mapped[int | None]
    paid_on: Mapped[date | None]
    expires_at: Mapped[datetime | None]
    ended_at: Mapped[datetime | None]
    created_at: Mapped[datetime]


class CalendarSource(Base):
    """A calendar kept elsewhere whose events block time here: a file, or an https ``address`` to read again."""

    __tablename__ = "calendar_source"
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    name: Mapped[str] = mapped_column(String(200))
    address: Mapped[str | None] = mapped_column(String(1000))
    created_at: Mapped[datetime]
    read_at: Mapped[datetime | None]
    problem: Mapped[str | None] = mapped_column(String(500))
    ended_at: Mapped[datetime | None]


class CalendarFeed(Base):
    """A private address at which the studio's bookings can be read; only its token's hash is kept."""

    __tablename__ = "calendar_feed"
    id: Mapped[int] = key()
    studio_id: Mapped[int] = studio_key()
    token_hash: Mapped[str] = mapped_column(String(64), unique=True)
    created_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]
