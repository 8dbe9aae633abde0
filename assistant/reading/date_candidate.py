"""One day phrase of a text with the days that fit and what happens on them."""

from dataclasses import dataclass

from assistant.reading.date_roles import Role
from assistant.reading.days import DayPhrase, Resolved
from assistant.reading.node import Node


@dataclass(frozen=True, slots=True)
class Candidate:
    """A day phrase with the days that fit and what happens on them."""

    node: Node
    days: Resolved
    role: Role
    asked: bool = False
    changed: bool = False
    mentions: tuple[Node, ...] = ()
    led_by_at: bool = False

    @property
    def phrase(self) -> DayPhrase:
        """The words' meaning."""
        phrase: DayPhrase = self.node.value
        return phrase
