"""What a conversation remembers between messages: asked questions, what stayed open, who was told of a hand-over."""

from dataclasses import asdict, dataclass, field, replace
from typing import Any

from assistant.inquiry.step import Step
from assistant.store.models import Inquiry


@dataclass(frozen=True)
class Memory:
    """``counts`` tells how often each question was put, ``last`` which the latest text held."""

    counts: dict[str, int] = field(default_factory=dict)
    last: tuple[str, ...] = ()
    left_open: tuple[str, ...] = ()
    handed_over: tuple[str, ...] = ()

    def after_asking(self, ids: tuple[str, ...]) -> "Memory":
        """Return the memory once a text with these questions was decided to be sent."""
        counts = {**self.counts, **{ident: self.counts.get(ident, 0) + 1 for ident in ids}}
        return replace(self, counts=counts, last=ids)

    def after_hand_over(self, step: Step) -> "Memory":
        """Return the memory once the designer got the hand-over as a task."""
        ident = step.hand_over.id if step.hand_over else "unknown"
        return replace(self, handed_over=tuple(dict.fromkeys((*self.handed_over, ident))))

    def after_take_up(self) -> "Memory":
        """Return the memory once the designer took up what was handed over to her."""
        return replace(self, handed_over=())


def memory_of(inquiry: Inquiry) -> Memory:
    """Return what the inquiry remembers."""
    kept = inquiry.asked or {}
    return Memory(
        counts=dict(kept.get("counts", {})),
        last=tuple(kept.get("last", ())),
        left_open=tuple(kept.get("left_open", ())),
        handed_over=tuple(kept.get("handed_over", ())),
    )


def remember(inquiry: Inquiry, memory: Memory) -> None:
    """Keep the memory with the inquiry."""
    plain: dict[str, Any] = asdict(memory)
    inquiry.asked = {name: list(value) if isinstance(value, tuple) else value for name, value in plain.items()}
