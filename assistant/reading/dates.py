"""Dates: the day of the event. Candidates, what happens on each, then one answer with all days still possible."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

from assistant.reading.context import Context
from assistant.reading.date_candidates import candidates, day_first, order_sure
from assistant.reading.date_moves import moves
from assistant.reading.date_roles import EVENT, Role, cues_of, role_of
from assistant.reading.days import (
    IMPOSSIBLE,
    INFERRED,
    MOST_OPTIONS,
    PAST,
    STATED,
    UNCLEAR,
    DayPhrase,
    Frame,
    MonthDay,
    Nth,
    Numeric,
    Resolved,
    coming,
    nearest,
    shift,
)
from assistant.reading.findings import CONSIDER, GIVE, WITHDRAW, Finding
from assistant.reading.holidays import Holiday
from assistant.reading.node import Node
from assistant.reading.weeks import Between, Month, Weekday

KEY = "event_date"
ASKING = {"is", "are", "do", "does", "can", "could", "would", "what", "how"}
SPOKEN_FOR = 0.75
SECOND_BEST = ("by", "service", "side", "birthday")
LINKS = {"or", "and", ",", "/", "&", "maybe", "even", "the", "on", "also", "y", "o", "either", "possibly"}
LINKS |= {"then", "el", "+", "if", "not"}
REGIONS = {"GB": ("GB",), "US": ("US",), "MX": ("MX",)}


@dataclass(frozen=True, slots=True)
class Candidate:
    """A day phrase with the days that fit and what happens on them."""

    node: Node
    days: Resolved
    role: Role
    asked: bool = False
    mentions: tuple[Node, ...] = ()

    @property
    def phrase(self) -> DayPhrase:
        """The words' meaning."""
        phrase: DayPhrase = self.node.value
        return phrase


Test = Callable[[Candidate, Context], bool]


def find(context: Context) -> list[Finding]:
    """Return the findings about the event's date: at most one that gives it, and what else is said of it."""
    frame = frame_of(context)
    nodes = candidates(context)
    nodes = [_moved_to(node, context) for node in nodes]
    found = [_candidate(node, nodes, context, frame) for node in _resolvable(nodes)]
    found = _beside_earlier(_in_their_months(found, frame), context)
    kept, lost = _event_days(found)
    away, kept = _split(kept, context, _is_away)
    considered, kept = _split(kept, context, _is_considered)
    findings = [_finding(one, (), WITHDRAW) for one in away]
    findings += [_finding(one, (), CONSIDER) for one in considered]
    if kept:
        answer = _beside_named(_joined(_after_changes(kept, context), context), context)
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
    if node.typo or context.nodes.ending("maybe_day", node.first) or _is_theme_day(node, context):
        resolved = replace(resolved, status=INFERRED) if resolved.status == STATED else resolved
    if context.fold(node.first - 1) in ("before", "after", "antes", "despues") and resolved.status == STATED:
        resolved = replace(resolved, status=UNCLEAR, why="before or after that day")
    return Candidate(node, resolved, role, _is_asked(node, context))


def _is_asked(node: Node, context: Context) -> bool:
    """Tell whether the day stands in a question that puts no new day in the place of another."""
    first, last = context.sentence(node.first)
    changed = any(first <= change.first < last for change in context.nodes.of("day_change"))
    return not changed and (context.fold(last - 1) == "?" or context.fold(first) in ASKING)


def _is_theme_day(node: Node, context: Context) -> bool:
    """Tell whether a date is a holiday's name too and that of a party ("4th of july party"), so not surely the day."""
    named = any(name.last == node.last for name in context.nodes.beginning("holiday", node.first))
    return named and context.nodes.is_a("party_of", node.last)


def _in_their_months(found: list[Candidate], frame: Frame) -> list[Candidate]:
    """Read "the 12th" after "June 5" in June: a day without a month belongs to the month spoken of before it."""
    month: tuple[int, int] | None = None
    done: list[Candidate] = []
    for one in found:
        if isinstance(one.phrase, Nth) and month is not None:
            inside = one.phrase.resolve(replace(frame, month=month))
            fits = inside.days and inside.status in (STATED, UNCLEAR)
            one = replace(one, days=inside) if fits else one
        elif isinstance(one.phrase, MonthDay | Numeric | Month | Holiday) and one.days.days and one.role.name != "past":
            month = (one.days.days[0].year, one.days.days[0].month)
        done.append(one)
    return done


def _beside_earlier(found: list[Candidate], context: Context) -> list[Candidate]:
    """Read "that Saturday" beside the day spoken of before it, whatever happens on that day."""
    day: date | None = None
    days_before: tuple[date, ...] = ()
    done: list[Candidate] = []
    for one in found:
        phrase = one.phrase
        if not isinstance(phrase, Weekday):
            if one.role.name != "past":
                day, days_before = one.days.only or day, one.days.days
            done.append(one)
            continue
        pointed = context.fold(one.node.first - 1) in ("that", "the", "ese")
        beside_it = _among(phrase, days_before) or (_around(phrase, day) if day is not None and pointed else None)
        done.append(replace(one, days=beside_it) if beside_it else one)
    return done


def _among(phrase: Weekday, days: tuple[date, ...]) -> Resolved | None:
    """Return the one of several days spoken of that falls on the weekday."""
    fitting = tuple(day for day in days if day.weekday() in phrase.weekdays)
    return Resolved(STATED, fitting, "one of the days spoken of") if len(days) > 1 and len(fitting) == 1 else None


def _around(phrase: Weekday, day: date) -> Resolved:
    """Return the day itself if it falls on the weekday, else the nearest such days before and after it."""
    after = coming(shift(day, -1), phrase.weekdays[0])
    if after == day:
        return Resolved(STATED, (day,), "the weekday of the day spoken of")
    return Resolved(UNCLEAR, (shift(after, -7), after), "beside the day spoken of")


def _event_days(found: list[Candidate]) -> tuple[list[Candidate], tuple[str, ...]]:
    """Return the candidates on which the event may be, and the others in words."""
    live = [one for one in found if not (one.days.status == PAST and not _said_in_full(one))]
    event = [one for one in live if one.role.name == EVENT]
    if not event:
        second = [one for one in live if one.role.name in SECOND_BEST]
        event = [replace(one, days=_at_most_inferred(one.days)) for one in second]
    chosen = {one.node for one in event}
    lost = tuple(
        f"{one.node.rule} at {one.node.start}: {', '.join(map(str, one.days.days[:3]))} is {one.role.name}"
        f" ({'; '.join(one.role.reasons)})"
        for one in found
        if one.node not in chosen
    )
    return event, lost


def _said_in_full(one: Candidate) -> bool:
    """Tell whether a past day was named as the event's, month and all, so that it must be asked about."""
    return isinstance(one.phrase, MonthDay | Numeric | Holiday) and one.role.name in (EVENT, *SECOND_BEST)


def _at_most_inferred(days: Resolved) -> Resolved:
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


def _after_changes(kept: list[Candidate], context: Context) -> list[Candidate]:
    """Drop every day that stands before words of change such as "no wait" or "moved to"."""
    changes = context.nodes.of("day_change")
    for index in range(len(kept) - 1, 0, -1):
        earlier, later = kept[index - 1].node, kept[index].node
        if any(earlier.last <= change.first and change.last <= later.first for change in changes):
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
        return found if found.days and found.status in (STATED, UNCLEAR, IMPOSSIBLE) else None
    return None


def _joined(kept: list[Candidate], context: Context) -> Candidate:
    """Bring several mentions to one: those that agree narrow each other, those that do not are alternatives."""
    answer = kept[0]
    for one in kept[1:]:
        answer = _join(answer, one, context)
    return answer


def _join(answer: Candidate, one: Candidate, context: Context) -> Candidate:
    both = (*(answer.mentions or (answer.node,)), one.node)
    common = tuple(day for day in answer.days.days if day in one.days.days)
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
    return replace(answer, mentions=both, days=Resolved(UNCLEAR, days, "more than one day is named"))


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
        return replace(answer, mentions=both, days=Resolved(UNCLEAR, days, "more than one day is named"))
    if linked == "mark" or context.fold(one.node.first - 1) in ("a", "is"):
        options = nearest(day, one.phrase.weekdays, context.today)
        return replace(answer, mentions=both, days=Resolved(IMPOSSIBLE, options, f"{day} is a {day:%A}"))
    if one.role.score >= SPOKEN_FOR or context.fold(one.node.first - 1) == "that":
        days = tuple(sorted({day, coming(day, one.phrase.weekdays[0]), *(near.days if near else ())}))
        return replace(answer, mentions=both, days=Resolved(UNCLEAR, days, "a weekday beside another day"))
    return answer


def _beside_named(answer: Candidate, context: Context) -> Candidate:
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


def _finding(one: Candidate, lost: tuple[str, ...], mode: str) -> Finding:
    days = tuple(day.isoformat() for day in one.days.days)
    status = one.days.status if one.days.status != PAST else IMPOSSIBLE
    value = days[0] if status in (STATED, INFERRED) and days else None
    spans = tuple(node.span for node in one.mentions or (one.node,))
    why = "; ".join(part for part in (one.days.why, *one.role.reasons) if part)
    extra = {"phrase": one.phrase, "role": one.role.name, "asked": one.asked}
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
