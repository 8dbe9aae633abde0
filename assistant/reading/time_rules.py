"""Rules for times of day. Nodes: ``clock`` and ``bare_clock`` (HH:MM, how sure), ``clock_range`` (start, end)."""

from fractions import Fraction

from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.node import Node

RULES = Rules()
SURE, LIKELY = "sure", "likely"
RANGE_LEADS = (
    "from", "between", "de", "desde", "time", "hours", "brunch", "lunch", "party", "dinner", "house", "shower",
    "reception", "cookout", "picnic", "bbq", "reunion", "celebration", "event", "graduation", "grad", "fair",
)  # fmt: skip
DASH = ("-", "to", "til", "till", "until", "a", "thru", "and", "through")


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
    start = first.value if first.kind == "clock" else bare(first)
    return (_before(start, last.value), last.value) if start else None


@RULES.rule("eight til late", "clock_range", kind("clock", "number"), word(*DASH), word("late", "close", "closing"))
def til_late(start: Node) -> object:
    """Read "8 til late" as an evening's hours."""
    known = start.value if start.kind == "clock" else bare(start)
    if not known:
        return None
    hour, minute = map(int, known[0].split(":"))
    evening = (f"{hour % 12 + 12:02d}:{minute:02d}", SURE)
    return (known if known[1] == SURE else evening, ("23:59", SURE))


@RULES.rule(
    "night seven", "bare_clock", word("night", "nite", "evening", "noche"), maybe("at", "@", ","), kind("number")
)
def night_hour(number: Node) -> object:
    hour = _hour(number)
    return _clock(hour, 0, "pm") if hour is not None and 4 <= hour <= 11 else None


@RULES.rule("hours past noon", "hours_past_noon", kind("number"), word("-"), kind("number"))
def hours_past_noon(first: Node, last: Node) -> object:
    """Read "12 - 5" and "11-3": no size runs downwards."""
    start, end = bare(first), bare(last)
    fits = start and end and 9 <= first.value <= 12 and 1 <= last.value <= 6
    return (start, end) if fits else None


@RULES.rule("two til four", "clock_range", kind("number"), word("til", "till", "until", "hasta"), kind("number"))
def two_til_four(first: Node, last: Node) -> object:
    return bare_range(first, last)


@RULES.rule("seven for half past", "clock", kind("number"), word("for"), kind("number"))
def seven_for(first: Node, second: Node) -> object:
    later = _pointed(second)
    return bare(first) if later and later[0] == first.value and later[1] in (15, 30, 45) else None


@RULES.rule(
    "from two to five",
    "clock_range",
    word(*RANGE_LEADS),
    maybe("las", ":", "is"),
    kind("number"),
    word(*DASH),
    kind("number"),
)
def bare_range(first: Node, last: Node) -> object:
    start, end = bare(first), bare(last)
    return (start, end) if start and end else None


def bare(number: Node) -> tuple[str, str] | None:
    hour, pointed = _hour(number), _pointed(number)
    clock = _clock(*pointed, "") if pointed else _clock(hour, 0, "") if hour else None
    return clock if isinstance(clock, tuple) else None


def _run_together(number: Node) -> tuple[int, int] | None:
    """Return hour and minute of "530"."""
    fits = number.rule == "digits" and number.value.denominator == 1 and 100 <= number.value <= 1259
    minute = int(number.value) % 100
    return (int(number.value) // 100, minute) if fits and minute in (0, 15, 30, 45) else None


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
    return bare(number)


@RULES.rule(
    "starts two",
    "bare_clock",
    word("starts", "start", "starting", "begins", "begin", "time", "doors", "kickoff", "ceremony", "reception"),
    maybe(":", "is", "at"),
    kind("number"),
)
def starts_hour(number: Node) -> object:
    together = _run_together(number)
    return _clock(*together, "") if together else bare(number)


@RULES.rule("at about six", "bare_clock", word("at", "@"), word("about", "around", "like"), kind("number"))
def at_about_hour(number: Node) -> object:
    return bare(number)


@RULES.rule("a las seis", "bare_clock", kind("clock_lead"), kind("number"))
def a_las(_lead: Node, number: Node) -> object:
    return bare(number)
