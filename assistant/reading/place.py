"""Place: the words that name the venue, the address, the town or the ZIP of the event.

A kind of place alone ("my house", "the park") names none, and a sender's own address in a signature is not the event's.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules
from assistant.reading.layout import QUOTED, SIGN_OFF, SIGNATURE
from assistant.reading.node import Node
from assistant.reading.place_runs import ADDRESS, CODE, NAME, POSTCODE, VENUE, Run, is_zip, run_at, town_with_code
from assistant.reading.place_words import ARTICLES, is_capital, is_plain, is_word, stops, venue_at

RULES = Rules()

WEIGHTS = {"heading": 6.0, ADDRESS: 3.5, VENUE: 3.0, "led by at": 2.0, CODE: 2.0, POSTCODE: 2.0, "led by in": 1.0}
_AT = {"at", "@", "en el", "en la"}
_BEFORE_A_TOWN = {"", ",", ".", "(", "-", "\n", "\n\n"}


@dataclass(frozen=True, slots=True)
class Named:
    """A run that names a place, with the reasons for it added up."""

    run: Run
    weight: float
    rule: str


def find(context: Context) -> list[Finding]:
    """Return the best-named place, joined with an address or a venue that the text gives apart from it."""
    named = [n for n in candidates(context) if not _is_elsewhere(context, n.run)]
    if not named:
        return []
    best = max(named, key=lambda n: (n.weight, -n.run.first))
    runs = sorted([best.run, *_apart(best, named)], key=lambda run: run.first)
    runs = [_whole(context, run) for run in runs]
    spans = tuple((context.tokens[run.first].start, context.tokens[run.last - 1].end) for run in runs)
    value = ", ".join(" ".join(context.text[start:end].split()) for start, end in spans)
    return [Finding("place", value, spans=spans, rule=best.rule)]


def _whole(context: Context, run: Run) -> Run:
    """Leave out a small "the" before the name, take a capital "The" along, and the kind of venue before a town."""
    token = context.tokens[run.first]
    if token.fold in ARTICLES and token.text.islower() and run.last - run.first > 1:
        return replace(run, first=run.first + 1)
    if context.fold(run.first - 1) == "the" and is_capital(context, run.first - 1):
        return replace(run, first=run.first - 1)
    venues = context.nodes.ending("venue", run.first - 1) if context.fold(run.first - 1) in ("in", "of", "near") else []
    kinds = [venue for venue in venues if venue.rule == "word" and not context.nodes.is_a("home", venue.first)]
    return replace(run, first=kinds[0].first) if kinds and run.sorts == {NAME} else run


def taken(context: Context) -> set[int]:
    """Return the tokens that name places, so that no colour or piece is read from "Gold Room" or "Arch Street"."""
    return context.once("tokens of places", _taken)


def _taken(context: Context) -> set[int]:
    return {index for named in candidates(context) for index in range(named.run.first, named.run.last)}


def candidates(context: Context) -> list[Named]:
    """Return every run that names a place, none inside another."""
    return context.once("places", _candidates)


def _candidates(context: Context) -> list[Named]:
    found: list[Named] = []
    for named in sorted(_starts(context), key=lambda n: (n.run.first, -n.run.last, -n.weight)):
        if not found or named.run.first >= found[-1].run.last:
            found.append(named)
        elif named.run.last > found[-1].run.last and named.weight > found[-1].weight:
            found[-1] = named
    return found


def _starts(context: Context) -> Iterator[Named]:
    yield from _after_headings(context)
    yield from _after_words(context)
    for at in range(len(context.tokens)):
        last = town_with_code(context, at) if context.fold(at - 1) in _BEFORE_A_TOWN else None
        if last is not None and context.fold(last - 2) != ",":  # "call me, 55512" names no town
            yield Named(Run(at, last, frozenset({CODE})), WEIGHTS[CODE], "a town and its ZIP code")
        run = run_at(context, at, led=False) if _may_start(context, at) else None
        if run is None or context.before(at, 2) == ("this", "is"):  # who writes, not where
            continue
        if run.sorts & {ADDRESS, VENUE, POSTCODE} or _is_title(context, run) or _is_lone_zip(context, run):
            yield Named(run, _weight(run), "an address or a venue's name")


def _may_start(context: Context, at: int) -> bool:
    token = context.tokens[at]
    if token.kind == "number":
        return True
    kinds = ("street_first", "sure_kind_first")
    begins = is_capital(context, at) and not is_capital(context, at - 1)
    return begins or any(context.nodes.is_a(kind, at) for kind in kinds)


def _is_title(context: Context, run: Run) -> bool:
    return run.sorts == {NAME} and context.fold(run.first) == "the" and run.last - run.first > 3


def _is_lone_zip(context: Context, run: Run) -> bool:
    alone = len([token for token in context.tokens if token.kind in ("word", "number")]) == 1
    return is_zip(context, run.first) and (alone or context.nodes.ending("place_label", run.first) != [])


def _after_headings(context: Context) -> Iterator[Named]:
    """Read "Location: ...", "Venue - ...", "3. LOCATION: ..." to the end of the line's name."""
    for node in context.nodes.longest("place_label"):
        at = node.last
        if context.fold(at) not in (":", "-", "is", "=", "es"):
            continue
        for start in range(at + 1, min(at + 10, len(context.tokens))):
            run = run_at(context, start, led=True)
            if run is not None:
                yield Named(run, WEIGHTS["heading"] + _weight(run), "after a heading for the place")
                break
            if context.tokens[start].kind == "newline":
                break


def _after_words(context: Context) -> Iterator[Named]:
    for node in context.nodes.longest("where_to"):
        run = run_at(context, node.last, led=True) or _after_at_sign(context, node)
        if run is None:
            continue
        if context.fold(node.first) == "@":
            yield Named(run, WEIGHTS["led by at"] + _weight(run), "a place after '@'")
            continue
        if node.value == "in" and not run.sorts & {ADDRESS, VENUE, CODE} and not _is_town(context, run):
            continue
        if node.value == "on" and not run.sorts & {ADDRESS, VENUE}:
            continue
        if node.value == "at" and not run.sorts & {ADDRESS, VENUE, CODE} and not is_capital(context, run.first):
            continue
        lead = "led by at" if node.value == "at" else "led by in"
        yield Named(run, WEIGHTS[lead] + _weight(run), f"a place after '{context.words(node)}'")


def _after_at_sign(context: Context, node: Node) -> Run | None:
    """Take up to three small words after "@": "@ the larkspur"."""
    first = node.last + (1 if context.fold(node.last) in ARTICLES else 0)
    last = first
    while context.fold(node.first) == "@" and last - first < 3 and is_word(context, last) and not stops(context, last):
        last += 1
    named = any(not is_plain(context, index) and venue_at(context, index) is None for index in range(first, last))
    return Run(first, last, frozenset({NAME})) if named else None


def _is_town(context: Context, run: Run) -> bool:
    """Tell whether all words after "in" are capitals that are no other known word ("in Port Allard")."""
    kinds = ("colour", "relation", "not_name", "home", "sign_off", "month", "weekday")
    known = any(context.nodes.is_a(kind, index) for index in range(run.first, run.last) for kind in kinds)
    return is_capital(context, run.first) and not known


def _weight(run: Run) -> float:
    return max((WEIGHTS.get(sort, 0.0) for sort in run.sorts), default=0.0) + 0.5 * (len(run.sorts) - 1)


def _apart(best: Named, named: list[Named]) -> list[Run]:
    """Return a venue, an address or a ZIP that stands apart from the best and adds to it."""
    added: list[Run] = []
    have = set(best.run.sorts)
    for other in sorted(named, key=lambda n: -n.weight):
        fresh = other.run.sorts & {ADDRESS, VENUE, CODE} - have
        if other is not best and fresh and not other.run.sorts & have & {ADDRESS, VENUE}:
            added.append(other.run)
            have |= other.run.sorts
    return added


def _is_elsewhere(context: Context, run: Run) -> bool:
    """Tell whether the words belong to a signature, to quoted history or to an office."""
    if context.role(run.first) in (SIGNATURE, QUOTED, SIGN_OFF):
        return True
    first, _ = context.sentence(run.first)
    return any(first <= node.first < run.first for node in context.nodes.of("not_place")) or _not_used(context, run)


def _not_used(context: Context, run: Run) -> bool:
    near = range(max(0, run.first - 3), min(len(context.tokens), run.last + 4))
    return any(context.nodes.is_a("not_used", index) for index in near) and venue_at(context, run.last - 1) is not None
