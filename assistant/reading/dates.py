"""Dates: the day of the event. Candidates, what happens on each, then one answer with all days still possible."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from assistant.reading.context import Context
from assistant.reading.date_candidate import Candidate
from assistant.reading.date_candidates import candidates, day_first, order_sure
from assistant.reading.date_joining import after_changes, beside, beside_named, joined
from assistant.reading.date_moves import moves
from assistant.reading.date_neighbours import beside_earlier, in_their_months
from assistant.reading.date_roles import EVENT, cues_of, role_of
from assistant.reading.days import (
    IMPOSSIBLE,
    INFERRED,
    MOST_OPTIONS,
    PAST,
    STATED,
    UNCLEAR,
    Frame,
    MonthDay,
    Numeric,
    Resolved,
)
from assistant.reading.findings import CONSIDER, GIVE, WITHDRAW, Finding
from assistant.reading.holidays import Holiday
from assistant.reading.node import Node
from assistant.reading.weeks import Between, Offset

__all__ = ["beside", "date_fact", "find", "frame_of"]

KEY = "event_date"
ASKING = {"is", "are", "do", "does", "can", "could", "would", "what", "how"}
LONG_PAST_DAYS = 400  # a day farther back was founded or born, not planned
SECOND_BEST = ("by", "service", "side", "birthday")
REGIONS = {"GB": ("GB",), "US": ("US",), "MX": ("MX",)}


Test = Callable[[Candidate, Context], bool]


def find(context: Context) -> list[Finding]:
    """Return the findings about the event's date: at most one that gives it, and what else is said of it."""
    frame = frame_of(context)
    nodes = candidates(context)
    nodes = [_moved_to(node, context) for node in nodes]
    found = [_candidate(node, nodes, context, frame) for node in _resolvable(nodes)]
    found = beside_earlier(in_their_months(found, frame), context)
    kept, lost = _event_days(found, context.today)
    away, kept = _split(kept, context, _is_away)
    considered, kept = _split(kept, context, _is_considered)
    findings = [_finding(one, (), WITHDRAW) for one in away]
    findings += [_finding(one, (), CONSIDER) for one in considered]
    if kept:
        answer = beside_named(joined(after_changes(kept, context), context), context)
        findings.append(_finding(answer, lost, GIVE))
    return findings + moves(context, nodes, bool(kept))


def frame_of(context: Context) -> Frame:
    """Return today, the order of day and month and the holidays of the context's locale."""
    language, _, territory = context.locale.replace("-", "_").partition("_")
    regions = REGIONS.get(territory, ("US",)) + (("MX",) if language == "es" and territory != "MX" else ())
    calendar = context.settings.holidays

    def holidays(name: str, today: date, year: int | None) -> tuple[date, ...]:
        return calendar.next_days(name, regions, today, year)

    return Frame(context.today, day_first(context.locale), order_sure(context.locale), None, holidays)


def _resolvable(nodes: list[Node]) -> list[Node]:
    return [node for node in nodes if hasattr(node.value, "resolve")]


def _candidate(node: Node, nodes: list[Node], context: Context, frame: Frame) -> Candidate:
    role = role_of(node, nodes, cues_of(context), context, context.settings.roles)
    resolved = node.value.resolve(frame)
    if _is_readiness(node, context):
        resolved = replace(resolved, status=UNCLEAR, why="when it must be ready")
    if node.typo or context.nodes.ending("maybe_day", node.first) or _is_theme_day(node, context):
        resolved = replace(resolved, status=INFERRED) if resolved.status == STATED else resolved
    if context.fold(node.first - 1) in ("before", "after", "antes", "despues") and resolved.status == STATED:
        resolved = replace(resolved, status=UNCLEAR, why="before or after that day")
    return Candidate(
        node,
        resolved,
        role,
        _is_asked(node, context),
        _is_changed(node, context),
        (),
        context.fold(node.first - 1) == "at",
    )


def _is_readiness(node: Node, context: Context) -> bool:
    """Tell whether "in 3 days" says when the work must be done ("need it in 3 days"): the event may come later."""
    counted = isinstance(node.value, Offset) and node.value.base is None and node.value.days > 1
    return counted and bool(context.nodes.ending("day_ready", node.first))


def _is_asked(node: Node, context: Context) -> bool:
    """Tell whether the day stands in a question that puts no new day in the place of another."""
    first, last = context.sentence(node.first)
    if _is_changed(node, context):
        return False
    also = any(first <= cue.first < last for cue in context.nodes.of("day_also"))
    return also or (context.fold(last - 1) == "?" or context.fold(first) in ASKING)


def _is_changed(node: Node, context: Context) -> bool:
    """Tell whether words of change stand in the day's sentence."""
    first, last = context.sentence(node.first)
    return any(first <= change.first < last for change in context.nodes.of("day_change"))


def _is_theme_day(node: Node, context: Context) -> bool:
    """Tell whether a date is a holiday's name too and that of a party ("4th of july party"), so not surely the day."""
    named = any(name.last == node.last for name in context.nodes.beginning("holiday", node.first))
    return named and context.nodes.is_a("party_of", node.last)


def _event_days(found: list[Candidate], today: date) -> tuple[list[Candidate], tuple[str, ...]]:
    """Return the candidates on which the event may be, and the others in words."""
    live = [one for one in found if not (one.days.status == PAST and not _said_in_full(one, today))]
    event = [one for one in live if one.role.name == EVENT]
    event = [one for one in event if one.days.status != PAST] or event  # beside a day ahead, a past one is a story
    if not event:
        second = [one for one in live if one.role.name in SECOND_BEST]
        event = [replace(one, days=_in_doubt(one)) for one in second]
    chosen = {one.node for one in event}
    lost = tuple(
        f"{one.node.rule} at {one.node.start}: {', '.join(map(str, one.days.days[:3]))} is {one.role.name}"
        f" ({'; '.join(one.role.reasons)})"
        for one in found
        if one.node not in chosen
    )
    return event, lost


def _said_in_full(one: Candidate, today: date) -> bool:
    """Tell whether a past day was named as the event's, month and all, so that it must be asked about."""
    event = isinstance(one.phrase, MonthDay | Numeric | Holiday) and one.role.name in (EVENT, *SECOND_BEST)
    return event and (today - one.days.days[0]).days < LONG_PAST_DAYS


def _in_doubt(one: Candidate) -> Resolved:
    """Return a day that stands in for the event's as inferred at most; "ready in 3 days" is only a guess."""
    days = one.days
    if isinstance(one.phrase, Offset) and one.role.name == "service" and one.phrase.base is None:
        return replace(days, status=UNCLEAR, why="when it must be ready") if one.phrase.days > 1 else days
    return replace(days, status=INFERRED) if days.status == STATED else days


def _split(found: list[Candidate], context: Context, test: Test) -> tuple[list[Candidate], list[Candidate]]:
    yes = [one for one in found if test(one, context)]
    return yes, [one for one in found if one not in yes]


def _is_away(one: Candidate, context: Context) -> bool:
    """Tell whether words beside the day take it away ("not the 5th", "the 5th won't work")."""
    before = bool(context.nodes.ending("day_away", one.node.first))
    return before or context.nodes.is_a("day_away_after", one.node.last)


def _is_considered(one: Candidate, context: Context) -> bool:
    """Tell whether the day is only thought about ("we might do the 17th instead")."""
    first, last = context.sentence(one.node.first)
    cues = [cue for cue in context.nodes.of("day_consider") if first <= cue.first < last]
    after = any(one.node.last <= cue.first <= one.node.last + 3 for cue in context.nodes.of("day_consider_after"))
    return after or any(cue.last <= one.node.first and one.node.first - cue.last <= 8 for cue in cues)


def _finding(one: Candidate, lost: tuple[str, ...], mode: str) -> Finding:
    days = tuple(day.isoformat() for day in one.days.days)
    status = one.days.status if one.days.status != PAST else IMPOSSIBLE
    value = days[0] if status in (STATED, INFERRED) and days else None
    spans = tuple(node.span for node in one.mentions or (one.node,))
    why = "; ".join(part for part in (one.days.why, *one.role.reasons) if part)
    extra = {"phrase": one.phrase, "role": one.role.name, "asked": one.asked, "changed": one.changed}
    extra["led_by_at"] = one.led_by_at
    return Finding(KEY, value, status, spans, one.node.rule, why, days if value is None else (), mode, extra, lost)


def _moved_to(node: Node, context: Context) -> Node:
    """Return the second day of "moved from June 5 to June 12"; any other phrase as it is."""
    if not isinstance(node.value, Between) or context.fold(node.first - 1) != "from":
        return node
    changed = any(context.nodes.ending(kind, node.first - n) for kind in ("day_change", "day_away") for n in (0, 1))
    return node.parts[-1] if changed else node


def date_fact(finding: Finding) -> dict[str, object]:
    """Return a finding as the fact of the contract: value, options (at most MOST_OPTIONS), or first and last day."""
    if finding.value is not None:
        return {"status": finding.status, "value": finding.value}
    options = list(finding.options)
    if finding.status == IMPOSSIBLE:
        return {"status": IMPOSSIBLE, "options": options[:MOST_OPTIONS], "why": finding.why.split("; ")[0]}
    if len(options) > MOST_OPTIONS:
        return {"status": UNCLEAR, "span": [options[0], options[-1]]}
    return {"status": UNCLEAR, "options": options}
