"""Times: when the event starts, as HH:MM. Set-up, delivery, the end and calls have times of their own, left out."""

from collections import defaultdict
from fractions import Fraction

from assistant.reading.context import Context
from assistant.reading.date_candidates import STREETS, candidates, counts_something
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.layout import QUOTED, SIGNATURE
from assistant.reading.node import Node, outermost
from assistant.reading.tokens import NUMBER, WORD

RULES = Rules()
KEY = "event_time"
SURE, LIKELY = "sure", "likely"
DASH = ("-", "to", "til", "till", "until", "a", "thru", "and", "through")
WEIGHTS = {"start": 1.0}
NEAR_BEST = 0.7  # of several starts that are as likely, the first one said
MARKS = {",": 2, ";": 3, ".": 3, "-": 1, "(": 2, ")": 2, "so": 2, "but": 3, "\n": 4, "\n\n": 6}


def _clock(hour: int, minute: int, half: str) -> object:
    """Return (HH:MM, how sure), or None when there is no such time."""
    if not (0 <= hour <= 23 and 0 <= minute <= 59) or (half and not 1 <= hour <= 12):
        return None
    if half:
        return (f"{hour % 12 + (12 if half == 'pm' else 0):02d}:{minute:02d}", SURE)
    if hour > 12 or hour == 0:
        return (f"{hour:02d}:{minute:02d}", SURE)
    return (f"{hour:02d}:{minute:02d}", LIKELY)


def _hour(number: Node) -> int | None:
    plain = number.value.denominator == 1 and 0 <= number.value <= 24
    return int(number.value) if plain and number.end - number.start <= (2 if number.rule == "digits" else 9) else None


def _pointed(number: Node) -> tuple[int, int] | None:
    """Return hour and minute of "7.30"."""
    shown = Fraction(number.value) * 100
    fits = number.rule == "digits" and number.end - number.start in (4, 5) and shown.denominator == 1
    return (int(number.value), int(shown) % 100) if fits else None


@RULES.rule("hour and half of the day", "clock", kind("number"), kind("clock_half"))
def hour_half(number: Node, half: Node) -> object:
    hour, pointed = _hour(number), _pointed(number)
    if pointed:
        return _clock(*pointed, half.value)
    return _clock(hour, 0, half.value) if hour is not None else None


@RULES.rule("3p", "clock", kind("number"), kind("clock_letter"))
def hour_letter(number: Node, half: Node) -> object:
    hour = _hour(number)
    return _clock(hour, 0, half.value) if hour is not None and number.end == half.start else None


@RULES.rule("530pm", "clock", kind("number"), kind("clock_half", "clock_letter"))
def hour_minutes_run_together(number: Node, half: Node) -> object:
    fits = number.rule == "digits" and number.value.denominator == 1 and 100 <= number.value <= 1259
    glued = half.kind == "clock_half" or number.end == half.start
    return _clock(int(number.value) // 100, int(number.value) % 100, half.value) if fits and glued else None


def _two(hour: Node, minute: Node, half: str) -> object:
    fits = hour.rule == "digits" and minute.rule == "digits" and minute.end - minute.start == 2
    number = _hour(hour)
    return (
        _clock(number, int(minute.value), half)
        if fits and number is not None and hour.end + 1 == minute.start
        else None
    )


@RULES.rule("hour:minute", "clock", kind("number"), word(":"), kind("number"))
def hour_minute(hour: Node, minute: Node) -> object:
    return _two(hour, minute, "")


@RULES.rule("hour:minute half", "clock", kind("number"), word(":"), kind("number"), kind("clock_half", "clock_letter"))
def hour_minute_half(hour: Node, minute: Node, half: Node) -> object:
    return _two(hour, minute, half.value)


@RULES.rule("hour o'clock", "clock", kind("number"), kind("oclock"))
def oclock(number: Node, _oclock: Node) -> object:
    hour = _hour(number)
    return _clock(hour, 0, "") if hour is not None else None


@RULES.rule("clock and half", "clock", kind("clock"), kind("clock_half"))
def clock_half(clock: Node, half: Node) -> object:
    hour, minute = clock.value[0].split(":")
    return _clock(int(hour), int(minute), half.value) if clock.value[1] == LIKELY else None


@RULES.rule("half past", "clock", kind("half_past"), kind("number"))
def half_past(minutes: Node, number: Node) -> object:
    return _past(number, int(minutes.value))


@RULES.rule("y media", "clock", kind("number"), kind("half_after"))
def half_after(number: Node, minutes: Node) -> object:
    return _past(number, int(minutes.value))


@RULES.rule("half two", "clock", kind("half_hour"), kind("number"))
def half_two(_half: Node, number: Node) -> object:
    return _past(number, 30) if number.rule in ("spelled number", "digits") else None


def _past(number: Node, minutes: int) -> object:
    hour = _hour(number)
    if hour is None or not 1 <= hour <= 12:
        return None
    return _clock(hour if minutes >= 0 else (hour - 1 or 12), minutes % 60, "")


@RULES.rule("two thirty", "clock", kind("number"), kind("number"))
def two_thirty(hour: Node, minute: Node) -> object:
    spelled = hour.rule == "spelled number" and minute.rule in ("tens", "spelled number")
    return _clock(int(hour.value), int(minute.value), "") if spelled and minute.value in (15, 30, 45) else None


@RULES.rule("noon", "clock", kind("clock_word"))
def clock_word(name: Node) -> object:
    return (name.value, SURE)


@RULES.rule("from hour to hour", "clock_range", kind("clock", "number"), word(*DASH), kind("clock"))
def from_to(first: Node, last: Node) -> object:
    start = first.value if first.kind == "clock" else _bare(first)
    return (_before(start, last.value), last.value) if start else None


@RULES.rule(
    "from two to five",
    "clock_range",
    word("from", "between", "de", "desde", "time", "hours"),
    maybe("las", ":", "is"),
    kind("number"),
    word(*DASH),
    kind("number"),
)
def bare_range(first: Node, last: Node) -> object:
    start, end = _bare(first), _bare(last)
    return (start, end) if start and end else None


def _bare(number: Node) -> tuple[str, str] | None:
    hour, pointed = _hour(number), _pointed(number)
    clock = _clock(*pointed, "") if pointed else _clock(hour, 0, "") if hour else None
    return clock if isinstance(clock, tuple) else None


def _before(start: tuple[str, str], end: tuple[str, str]) -> tuple[str, str]:
    """Give a start without am or pm the half of the day that puts it right before the end ("11-2pm", "3-6pm")."""
    if start[1] == SURE or end[1] != SURE:
        return start
    hour, minute = map(int, start[0].split(":"))
    morning, afternoon = f"{hour % 12:02d}:{minute:02d}", f"{hour % 12 + 12:02d}:{minute:02d}"
    return (afternoon if afternoon < end[0] or morning >= end[0] else morning, SURE)


@RULES.rule(
    "at six",
    "bare_clock",
    word("at", "@", "around", "about", "say", "from", "by", "until", "til", "till"),
    kind("number"),
)
def at_hour(number: Node) -> object:
    return _bare(number)


@RULES.rule(
    "starts two",
    "bare_clock",
    word("starts", "start", "starting", "begins", "time", "doors"),
    maybe(":", "is"),
    kind("number"),
)
def starts_hour(number: Node) -> object:
    return _bare(number)


@RULES.rule("at about six", "bare_clock", word("at", "@"), word("about", "around", "like"), kind("number"))
def at_about_hour(number: Node) -> object:
    return _bare(number)


@RULES.rule("a las seis", "bare_clock", kind("clock_lead"), kind("number"))
def a_las(_lead: Node, number: Node) -> object:
    return _bare(number)


def find(context: Context) -> list[Finding]:
    """Return the event's start if one is told; the likeliest afternoon reading of a bare hour is inferred."""
    days = candidates(context)
    nodes = [node for node in context.nodes.of("clock", "clock_range", "bare_clock") if _is_time(node, context)]
    found = outermost(node for node in nodes if not any(day.meets(node) for day in days))
    scored = [(node, *_role(node, found, context)) for node in found]
    starts = [(node, score) for node, role, score in scored if role == "start"]
    if not starts:
        return []
    best = max(score for _, score in starts)
    node = next(node for node, score in starts if score >= NEAR_BEST * best)
    value, sure = node.value[0] if node.kind == "clock_range" else node.value
    inferred = sure != SURE
    if inferred:
        value = _likely(value, node, context)
    lost = tuple(f"{other.value} at {other.start} is {role}" for other, role, _ in scored if other is not node)
    status = "inferred" if inferred else "stated"
    return [Finding(KEY, value, status, (node.span,), node.rule, "", (), lost=lost)]


def _is_time(node: Node, context: Context) -> bool:
    if context.role(node.first) in (QUOTED, SIGNATURE):
        return False
    if node.rule == "half two" and node.parts[1].rule == "digits" and context.locale != "en_GB":
        return False
    if node.kind != "bare_clock":
        return True
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
        return True
    if node.last >= len(context.tokens):
        return False
    following = context.tokens[node.last]
    named = following.kind == WORD and following.text[:1].isupper() and not number.text.isupper()
    known = context.nodes.is_a("weekday", node.last) or context.nodes.is_a("month", node.last)
    street = any(fold in STREETS for fold in context.after(node.last, 4))
    return (named and not known) or street


def _role(node: Node, others: list[Node], context: Context) -> tuple[str, float]:
    """Return what happens at a time, and how strongly the words near it say so."""
    sums: defaultdict[str, float] = defaultdict(float, {"start": 0.3})
    first, last = context.sentence(node.first)
    for cue in outermost(context.nodes.of("time_cue")):
        late = cue.value == "end" and cue.first >= node.last  # "7pm till late": the end is what follows
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
    """Return a bare hour in the half of the day that parties keep: 8 to 11 in the morning, the rest after noon."""
    hour, minute = map(int, value.split(":"))
    if hour >= 13:
        return value
    first, last = context.sentence(node.first)
    parts = {part.value for part in context.nodes.of("day_part") if first <= part.first < last}
    morning = parts == {"am"} or (8 <= hour <= 11 and "pm" not in parts)
    return f"{hour % 12 + (0 if morning else 12):02d}:{minute:02d}"
