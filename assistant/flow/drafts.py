"""Drafts: one open draft an inquiry, each bound to its text by a fingerprint, replaced and never rewritten."""

from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from assistant.doors.clean import storable
from assistant.store.models import Draft, Inquiry
from assistant.store.parcels import fingerprint

OPEN_STATES = ("waiting", "kept")


def same_newlines(text: str) -> str:
    """Browsers send CRLF for what was shown as LF; one form, free of what a database refuses, is kept and sent."""
    return storable(text).replace("\r\n", "\n").replace("\r", "\n")


def open_draft(session: Session, inquiry_id: int) -> Draft | None:
    """Return the draft that waits for a decision, if any."""
    return session.scalar(select(Draft).where(Draft.inquiry_id == inquiry_id, Draft.state.in_(OPEN_STATES)))


def drop_open(session: Session, inquiry_id: int, now: datetime, state: str = "replaced") -> None:
    """End the open draft of an inquiry; its text stays in the store."""
    draft = open_draft(session, inquiry_id)
    if draft:
        draft.state, draft.decided_at = state, now
        session.flush()


def put_draft(
    session: Session,
    inquiry: Inquiry,
    *,
    subject: str | None,
    text: str,
    parts: int,
    purpose: str,
    rules_version: str,
    reasons: list[str],
    now: datetime,
) -> Draft:
    """Write a new draft with the inquiry's present figures; an open one is replaced.

    A draft whose text and figures did not change is left alone, so a page opened earlier stays valid.
    """
    mark = fingerprint(subject, text)
    held = open_draft(session, inquiry.id)
    if held and held.fingerprint == mark and _figures(held) == (inquiry.quote, inquiry.verdict):
        held.reasons = list(reasons)
        return held
    drop_open(session, inquiry.id, now)
    last = session.scalar(
        select(Draft.version).where(Draft.inquiry_id == inquiry.id).order_by(Draft.version.desc()).limit(1)
    )
    draft = Draft(
        studio_id=inquiry.studio_id,
        inquiry_id=inquiry.id,
        version=(last or 0) + 1,
        state="waiting",
        subject=subject,
        text=text,
        fingerprint=mark,
        parts=parts,
        purpose=purpose,
        quote=inquiry.quote,
        verdict=inquiry.verdict,
        rules_version=rules_version,
        reasons=list(reasons),
        created_at=now,
    )
    session.add(draft)
    session.flush()
    return draft


def _figures(draft: Draft) -> tuple[dict[str, Any] | None, dict[str, Any] | None]:
    return draft.quote, draft.verdict
