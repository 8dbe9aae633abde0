"""A message on its way out, as the sender sees it: a value, cut loose from the database."""

import hashlib
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from assistant.store.models import Outgoing


@dataclass(frozen=True)
class Parcel:
    """One claimed message. ``claim`` proves the lease; ``look_up`` says that it may be with the provider already.

    ``tried_at`` is when the provider was last called; ``provider_id`` is set when a carrier's report named it already;
    ``automatic`` marks a text no person approved.
    """

    id: int
    claim: int
    studio_id: int
    client_id: int
    inquiry_id: int | None
    channel: str
    sender: str
    recipient: str
    subject: str | None
    text: str
    headers: dict[str, Any]
    purpose: str
    needs_yes: bool
    automatic: bool
    look_up: bool
    attempts: int
    tried_at: datetime
    provider_id: str | None
    created_at: datetime


def parcel_of(row: Outgoing, *, claim: int, look_up: bool, attempts: int, tried_at: datetime) -> Parcel:
    """Return the row as a parcel under the given claim."""
    return Parcel(
        id=row.id,
        claim=claim,
        studio_id=row.studio_id,
        client_id=row.client_id,
        inquiry_id=row.inquiry_id,
        channel=row.channel,
        sender=row.sender,
        recipient=row.recipient,
        subject=row.subject,
        text=row.text,
        headers=dict(row.headers),
        purpose=row.purpose,
        needs_yes=row.needs_yes,
        automatic=row.approved_by is None,
        look_up=look_up,
        attempts=attempts,
        tried_at=tried_at,
        provider_id=row.provider_id,
        created_at=row.created_at,
    )


def fingerprint(subject: str | None, text: str) -> str:
    """Return the SHA-256 of subject and text: what a yes was given to, byte for byte."""
    return hashlib.sha256(f"{subject or ''}\0{text}".encode("utf-8", "surrogatepass")).hexdigest()
