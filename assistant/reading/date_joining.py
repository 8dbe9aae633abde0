"""Brings the mentions of the event's day to one answer: changed, agreeing, or alternatives."""

from dataclasses import replace
from datetime import date

from assistant.reading.context import Context
from assistant.reading.date_candidate import Candidate
from assistant.reading.days import (
    IMPOSSIBLE,
    INFERRED,
    STATED,
    UNCLEAR,
    DayPhrase,
    Frame,
    Nth,
    Resolved,
    coming,
    nearest,
    shift,
)
from assistant.reading.node import Node
from assistant.reading.weeks import Month, Weekday

SPOKEN_FOR = 0.75
ALTERNATIVES = "more than one day is named"
NEAR_DAYS = 14
CHANGE_REACH = 9
LINKS = {"or", "and", ",", "/", "&", "maybe", "even", "the", "on", "also", "y", "o", "either", "possibly"}
LINKS |= {"then", "el", "+", "if", "not"}


def after_changes(kept: list[Candidate], context: Context) -> list[Candidate]:
    """Drop every day that stands before words of change such as "no wait" or "moved to"."""
    changes = context.nodes.of("day_change")
    for index in range(len(kept) - 1, 0, -1):
        earlier, later = kept[index - 1].node, kept[index].node
        if context.fold(earlier.last) == "now":  # "it is June 12 now, the hall was taken on June 5"
            return kept[:index]
        near = later.first - CHANGE_REACH
        if any(max(earlier.last, near) <= change.first and change.last <= later.first for change in changes):
            return [_anchored(kept[index], kept[index - 1]), *kept[index + 1 :]]
    return kept


def _anchored(one: Candidate, before: Candidate) -> Candidate:
    """Read a bare weekday near the day that it replaces."""
    if isinstance(one.phrase, Weekday) and not one.phrase.which and before.days.only is not None:
        return replace(one, days=beside(one.phrase, before.days.only, before.days.only) or one.days)
    return one


def beside(phrase: DayPhrase, prior: date, today: date) -> Resolved | None:
    """Return what a bare weekday or day number means beside a day that was known: near it, or in its month."""
    if isinstance(phrase, Weekday) and not phrase.which and not phrase.weeks_on and len(phrase.weekdays) == 1:
        around = [shift(prior, n) for n in range(-3, 4)]
        days = tuple(day for day in around if day.weekday() == phrase.weekdays[0] and day >= min(today, prior))
        return Resolved(INFERRED, days, "the nearest to the day spoken of") if days else None
    if isinstance(phrase, Nth):
        found = phrase.resolve(Frame(today, month=(prior.year, prior.month)))
        nearer = _in_next_month(phrase, found, prior, today)
        if nearer is not None:
            return nearer
        return found if found.days and found.status in (STATED, UNCLEAR, IMPOSSIBLE) else None
    return None


def _in_next_month(phrase: Nth, found: Resolved, prior: date, today: date) -> Resolved | None:
    """Return both days when the number lies nearer in a neighbouring month ("the 6th" after February 27)."""
    if found.only is None or abs((found.only - prior).days) <= NEAR_DAYS:
        return None
    way = 1 if found.only < prior else -1
    count = prior.year * 12 + prior.month - 1 + way
    other = phrase.resolve(Frame(today, month=(count // 12, count % 12 + 1)))
    if other.only is None or other.only < today or abs((other.only - prior).days) > NEAR_DAYS:
        return None
    days = tuple(sorted({found.only, other.only}))
    return Resolved(UNCLEAR, days, "this month or the one beside it")


def joined(kept: list[Candidate], context: Context) -> Candidate:
    """Bring several mentions to one: those that agree narrow each other, those that do not are alternatives."""
    answer = kept[0]
    for one in kept[1:]:
        answer = _join(answer, one, context)
    return answer


def _join(answer: Candidate, one: Candidate, context: Context) -> Candidate:
    both = (*(answer.mentions or (answer.node,)), one.node)
    common = tuple(day for day in answer.days.days if day in one.days.days)
    if common and answer.days.why == ALTERNATIVES:
        return replace(answer, mentions=both)  # one of several days named again decides nothing
    if common:
        status = _better(answer.days, one.days) if len(common) == 1 else UNCLEAR
        return replace(answer, mentions=both, days=Resolved(status, common, "said more than once"))
    linked = _linked((answer.mentions or (answer.node,))[-1], one.node, context)
    bare = isinstance(one.phrase, Weekday) and not one.phrase.which
    if bare and not isinstance(answer.phrase, Weekday) and answer.days.only is not None:
        return _join_weekday(answer, one, linked, both, context)
    if isinstance(answer.phrase, Weekday) and not answer.phrase.which and one.days.only is not None and not linked:
        return one
    if isinstance(one.phrase, Month) and not linked:
        return answer
    days = tuple(sorted({*answer.days.days, *one.days.days}))
    return replace(answer, mentions=both, days=Resolved(UNCLEAR, days, ALTERNATIVES))


def _join_weekday(
    answer: Candidate, one: Candidate, linked: str, both: tuple[Node, ...], context: Context
) -> Candidate:
    day = answer.days.only
    assert day is not None
    assert isinstance(one.phrase, Weekday)
    if day.weekday() in one.phrase.weekdays:
        return replace(answer, mentions=both)
    near = beside(one.phrase, day, context.today)
    if linked == "or" and near is not None:
        days = tuple(sorted({day, *near.days}))
        return replace(answer, mentions=both, days=Resolved(UNCLEAR, days, ALTERNATIVES))
    if linked == "mark" or context.fold(one.node.first - 1) in ("a", "is"):
        options = nearest(day, one.phrase.weekdays, context.today)
        return replace(answer, mentions=both, days=Resolved(IMPOSSIBLE, options, f"{day} is a {day:%A}"))
    if one.role.score >= SPOKEN_FOR or context.fold(one.node.first - 1) == "that":
        days = tuple(sorted({day, coming(day, one.phrase.weekdays[0]), *(near.days if near else ())}))
        return replace(answer, mentions=both, days=Resolved(UNCLEAR, days, "a weekday beside another day"))
    return answer


def beside_named(answer: Candidate, context: Context) -> Candidate:
    """Doubt a day of which the text says "the day before" or "the Saturday after" without saying more."""
    day = answer.days.only
    for node in context.nodes.longest("beside_day"):
        if day is None or any(node.meets(other) and other.last > node.last for other in context.nodes.of("day")):
            continue
        weekday, way = node.value
        near = (
            shift(day, way) if weekday is None else coming(day, weekday) if way > 0 else shift(coming(day, weekday), -7)
        )
        near = shift(near, -7) if near == day and way < 0 else near
        return replace(answer, days=Resolved(UNCLEAR, tuple(sorted({day, near})), "a day beside another"))
    return answer


def _better(first: Resolved, second: Resolved) -> str:
    """Return the status of a day that two mentions share: the surer one, where neither is in doubt of itself."""
    statuses = {first.status, second.status}
    return STATED if STATED in statuses else INFERRED if statuses & {INFERRED, UNCLEAR} else IMPOSSIBLE


def _linked(first: Node, second: Node, context: Context) -> str:
    """Tell how two phrases hang together: "or", "mark" (only a mark between), or "" (not at all)."""
    between = [token.fold for token in context.tokens[first.last : second.first]]
    if not all(fold in LINKS or fold in "-()." for fold in between) or len(between) > 4:
        return ""
    words = [fold for fold in between if fold in LINKS and fold not in (",", "the", "el", "on")]
    return "or" if words else "mark"
