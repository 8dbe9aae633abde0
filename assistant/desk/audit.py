"""Writes who did what at the desk; never what was said."""

from typing import Any

from sqlalchemy.orm import Session

from assistant.desk.context import the_desk
from assistant.desk.sessions import Visitor
from assistant.store.models import AuditLine, Designer


def note(session: Session, who: Visitor | Designer, what: str, **detail: Any) -> None:
    """Add one line to the audit, in the transaction of the act itself."""
    session.add(
        AuditLine(
            studio_id=who.studio_id,
            at=the_desk().now(),
            who=who.name[:100],
            what=what,
            detail=detail,
        )
    )
