"""The flow's front: every way in which a message or a decision changes the store."""

from dataclasses import dataclass
from typing import Any

from assistant.doors.inbound import Inbound


@dataclass(frozen=True)
class Receipt:
    """What became of an inbound message: its row, its inquiry (None when set aside), and whether it was known."""

    message_id: int
    inquiry_id: int | None
    duplicate: bool


class Flow:
    """Carries inbound messages and the designer's decisions through the rooms into the store."""

    def receive(self, inbound: Inbound) -> Receipt:
        """Store one inbound message and what follows from it, in one transaction."""
        raise NotImplementedError

    def edit_facts(self, inquiry_id: int, changes: dict[str, Any], designer_id: int | None) -> None:
        """Set facts by hand (None takes a fact away) and make the draft anew."""
        raise NotImplementedError
