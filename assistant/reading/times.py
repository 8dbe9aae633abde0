"""Times: when the event starts, as HH:MM. Set-up, delivery, the end and calls have times of their own, left out."""

from collections import defaultdict

from assistant.reading.context import Context
from assistant.reading.date_candidates import STREETS, candidates, counts_something
from assistant.reading.findings import Finding
from assistant.reading.layout import QUOTED, SIGNATURE
from assistant.reading.node import Node, outermost
from assistant.reading.time_rules import RULES, SURE, bare
from assistant.reading.tokens import NUMBER, WORD

__all__ = ["RULES", "find"]

KEY = "event_time"
WEIGHTS = {"start": 1.0}
KINDS = ("clock", "clock_range", "bare_clock", "hours_past_noon")
MEAL = "meal"  # "6pm dinner" is the start where no other time is
EVENING_FROM = 8
NEAR_BEST = 0.7  # of several starts that are as likely, the first one said
MARKS = {",": 2, ";": 3, ".": 3, "-": 1, "(": 2, ")": 2, "so": 2, "but": 3, "\n": 4, "\n\n": 6}


def find(context: Context) -> list[Finding]:
    """Return the event's start if one is told; the likeliest afternoon reading of a bare hour is inferred."""
    days = candidates(context)
    nodes = [node for node in context.nodes.of(*KINDS) if _is_time(node, context)]
    nodes += [hours for day in days for hours in _hours_after(day, context)]
    found = outermost(node for node in nodes if not any(day.meets(node) for day in days))
    scored = [(node, *_role(node, found, context)) for node in found]
    starts = [(node, score) for node, role, score in scored if role == "start"]
    starts = starts or [(node, score) for node, role, score in scored if role == MEAL]
    if not starts:
        return []
    best = max(score for _, score in starts)
    node = next(node for node, score in starts if score >= NEAR_BEST * best)
    value, sure = node.value[0] if node.kind in ("clock_range", "hours_past_noon") else node.value
    inferred = sure != SURE
    if inferred:
        value = _likely(value, node, context)
    lost = tuple(f"{other.value} at {other.start} is {role}" for other, role, _ in scored if other is not node)
    status = "inferred" if inferred else "stated"
    return [Finding(KEY, value, status, (node.span,), node.rule, "", (), lost=lost)]


def _hours_after(day: Node, context: Context) -> list[Node]:
    """Return the hours that stand bare behind a day: "aug 7 4-8", "3/27, 10-12"."""
    index = day.last + (context.fold(day.last) in (",", "@", "from", "at"))
    numbers = [node for at in (index, index + 2) for node in context.nodes.beginning("number", at)]
    if len(numbers) != 2 or context.fold(index + 1) not in ("-", "to") or counts_something(index + 3, context):
        return []
    first, last = numbers
    hours = (bare(first), bare(last))
    if not all(hours) or not all(1 <= number.value <= 12 for number in numbers):
        return []
    return [
        Node("clock_range", hours, first.start, last.end, first.first, last.last, "hours after a day", (first, last))
    ]


def _is_time(node: Node, context: Context) -> bool:
    if context.role(node.first) in (QUOTED, SIGNATURE):
        return False
    if node.rule == "half two" and node.parts[1].rule == "digits" and context.locale != "en_GB":
        return False
    if node.kind == "hours_past_noon":
        opens = context.fold(node.first - 1) in ("", ",", ".", "\n", "\n\n", "from", "is", "party", "day")
        return opens and context.fold(node.last) in ("", ",", ".", "\n", "\n\n", "at", "@", "!")
    if node.kind == "clock_range" and node.rule == "from two to five":
        return not counts_something(node.last, context)
    if node.kind != "bare_clock":
        return True
    if any(clock.last > node.last for clock in context.nodes.beginning("clock", node.last - 1)):
        return False
    number = context.tokens[node.last - 1]
    follows = counts_something(node.last, context)
    glued = node.last < len(context.tokens) and context.tokens[node.last].start == number.end
    longer = glued and context.fold(node.last) in ("/", "-", "x", "'", '"', "%", "k", ":")
    return not follows and not longer and not _in_a_day(node, context) and not _in_words(node, context)


def _in_a_day(node: Node, context: Context) -> bool:
    return any(day.first <= node.last - 1 < day.last and day.length > 1 for day in context.nodes.of("day"))


def _in_words(node: Node, context: Context) -> bool:
    """Tell whether a bare hour is a house number or a name: "at 55 Quarry Sq", "at 6 elm street"."""
    number = context.tokens[node.last - 1]
    if number.kind == NUMBER and len(number.text) > 2 and "." not in number.text:
        return node.last < len(context.tokens) and context.tokens[node.last].kind == WORD
    if node.last >= len(context.tokens):
        return False
    following = context.tokens[node.last]
    named = following.kind == WORD and following.text[:1].isupper() and not number.text.isupper()
    known = context.nodes.is_a("weekday", node.last) or context.nodes.is_a("month", node.last)
    street = any(fold in STREETS for fold in context.after(node.last, 4))
    return (named and not known) or street


def _role(node: Node, others: list[Node], context: Context) -> tuple[str, float]:
    """Return what happens at a time, and how strongly the words near it say so."""
    sums: defaultdict[str, float] = defaultdict(float, {"start": 0.5})
    first, last = context.sentence(node.first)
    days = candidates(context)
    for cue in outermost(context.nodes.of("time_cue")):
        late = cue.value == "end" and cue.first >= node.last  # "7pm till late": the end is what follows
        if any(day.covers(cue) for day in days):
            continue  # "the Saturday before Halloween at 4" tells nothing of the time
        if first <= cue.first and cue.last <= last and not late and not (cue.meets(node) and cue.first > node.first):
            distance = _distance(cue, node, others, context)
            sums[cue.value] = max(sums[cue.value], WEIGHTS.get(cue.value, 1.3) / (1 + distance / 3))
    if node.value[0] == "00:00":
        sums["other"] += 0.8
    role = max(sums, key=lambda name: (sums[name], name == "start"))
    return role, sums[role]


def _distance(cue: Node, node: Node, others: list[Node], context: Context) -> int:
    low, high = (cue.last, node.first) if cue.last <= node.first else (node.last, cue.first)
    distance = max(0, high - low) + sum(MARKS.get(context.fold(index), 0) for index in range(low, high))
    distance += 3 * sum(low <= other.first and other.last <= high for other in others if other is not node)
    return distance + (4 if node.last <= cue.first else 0)


def _likely(value: str, node: Node, context: Context) -> str:
    """Return a bare hour in the half of the day that parties keep: 9 to 11 in the morning, the rest after noon.

    Eight is in the evening unless the text speaks of a morning, a school or work.
    """
    hour, minute = map(int, value.split(":"))
    if hour >= 13:
        return value
    first, last = context.sentence(node.first)
    parts = {part.value for part in context.nodes.of("day_part") if first <= part.first < last}
    early = hour > EVENING_FROM or (hour == EVENING_FROM and bool(context.nodes.of("day_starts_early")))
    morning = parts == {"am"} or (early and hour <= 11 and "pm" not in parts)
    return f"{hour % 12 + (0 if morning else 12):02d}:{minute:02d}"
