"""What happens on a day: the event, or a deadline, access, a birth, something past. The words near it decide.

Every cue adds its role's weight, less the farther it stands; the sums are kept and shown by ``read --why``.
"""

from collections import defaultdict
from dataclasses import dataclass
from typing import TYPE_CHECKING

from assistant.reading.node import Node
from assistant.reading.settings import RoleWeights

if TYPE_CHECKING:
    from assistant.reading.context import Context

EVENT = "event"
COMMA, LINE = 2, 6
AFTER_PENALTY = 3
DEADLINE_AFTER = 8  # "starts June 5 and ends at 11" is no deadline
REACH = 14


@dataclass(frozen=True, slots=True)
class Role:
    """The role that won for a day, its sum, and the sums of all roles with the words that made them."""

    name: str
    score: float
    reasons: tuple[str, ...]


def role_of(node: Node, others: list[Node], cues: list[Node], context: "Context", weights: RoleWeights) -> Role:
    """Return what happens on the day that ``node`` names."""
    sums: defaultdict[str, float] = defaultdict(float, {EVENT: weights.prior})
    words: defaultdict[str, list[str]] = defaultdict(list)
    first, last = context.sentence(node.first)
    first = _with_heading(first, context)
    led = bool(context.nodes.ending("by_word", node.first)) or context.fold(node.first - 1) in ("the", "el")
    for cue in cues:
        if cue.last <= first or cue.first >= last or cue.meets(node) or _tells_a_time(cue, context):
            continue
        distance = _distance(cue, node, others, context)
        if distance > REACH:
            continue
        strength = weights.weights.get(cue.value, 1.0) / (1 + distance / 4)
        strength *= _led_share(cue.value, led, context.fold(node.first - 1))
        if not strength:
            continue
        sums[cue.value] = max(sums[cue.value], strength) + 0.25 * min(sums[cue.value], strength)
        words[cue.value].append(f"{context.words(cue)!r} {strength:.1f}")
    name = max(sums, key=lambda role: (sums[role], role == EVENT))
    reasons = tuple(
        f"{role} {sums[role]:.1f}" + (f" ({', '.join(words[role])})" if words[role] else "") for role in sums
    )
    return Role(name, sums[name], reasons)


def _tells_a_time(cue: Node, context: "Context") -> bool:
    """Tell whether words of access lead a time of day ("we have the hall from noon"), not a day."""
    leads = cue.value == "access" and context.fold(cue.last - 1) in ("from", "at", "by")
    return leads and any(context.nodes.is_a(kind, cue.last) for kind in ("clock", "clock_range"))


def _led_share(role: str, led: bool, before: str) -> float:
    """Return how much of a deadline's cue counts: "by" leads deadlines, "a quote for June 5" tells the event's day."""
    if role == "paperwork" and not led:
        return 0
    share = 0.5 if role == "reply" and not led else 1.0
    return share / 3 if before == "for" and role in ("reply", "deadline") else share


def _with_heading(first: int, context: "Context") -> int:
    """A sentence that opens a line after a line ending in a colon hears that line too."""
    return context.sentence(first - 2)[0] if first >= 2 and context.fold(first - 2) == ":" else first


def _distance(cue: Node, node: Node, others: list[Node], context: "Context") -> int:
    """Return the tokens between cue and day; marks and other days between them make it longer."""
    low, high = (cue.last, node.first) if cue.last <= node.first else (node.last, cue.first)
    distance = max(0, high - low)
    for index in range(low, high):
        fold = context.fold(index)
        distance += COMMA if fold in (",", ";", "-", "(", ")", "so", "but") else LINE if fold[:1] == "\n" else 0
    between = [other for other in others if other is not node and low <= other.first and other.last <= high]
    distance += 3 * len(between)
    after = DEADLINE_AFTER if cue.value == "deadline" else AFTER_PENALTY
    return distance + (after if node.last <= cue.first else 0)


def cues_of(context: "Context") -> list[Node]:
    """Return the cue words; a longer cue hides the shorter ones inside it."""
    return context.once("day cues", _cues)


def _cues(context: "Context") -> list[Node]:
    kept: list[Node] = []
    for cue in sorted(context.nodes.of("day_cue"), key=lambda cue: (-cue.length, cue.first)):
        if not any(other.covers(cue) and other.length > cue.length for other in kept):
            kept.append(cue)
    return sorted(kept, key=lambda cue: cue.first)
