"""Reads the fact shapes of the contract for showing: value, standing, options, and the words that gave them."""

from collections.abc import Iterator, Mapping
from typing import Any

ORDER = (
    "event_date", "event_time", "occasion", "pieces", "colours", "setting", "place", "budget", "name",
    "density", "finish", "miles", "strike", "crew",
)  # fmt: skip
Span = tuple[int, int, int]


def value_of(fact: Any) -> Any:
    """Return a fact's value, be it bare or in a table with its status."""
    if isinstance(fact, Mapping) and ("value" in fact or "status" in fact):
        return fact.get("value")
    return fact


def status_of(fact: Any) -> str:
    """Return stated, inferred, unclear or impossible; "" when there is no such fact."""
    if fact is None or fact == []:
        return ""
    return str(fact.get("status", "stated")) if isinstance(fact, Mapping) else "stated"


def options_of(fact: Any) -> list[Any]:
    """Return the readings that are possible, at most 7."""
    options = fact.get("options") if isinstance(fact, Mapping) else None
    return list(options or [])[:7]


def spans_of(fact: Any) -> list[Span]:
    """Return every (message, start, end) that gave the fact or one of its items; malformed ones are left out."""
    return list(dict.fromkeys(_walk(fact)))


def with_sources(facts: Mapping[str, Any], sources: Mapping[str, Any]) -> dict[str, Any]:
    """Return the facts with the client's words put to the bare ones (colours, budget, name), for marking only."""
    marked = dict(facts)
    for name, places in sources.items():
        if name in facts and not spans_of(facts[name]):
            marked[name] = {"status": "stated", "value": value_of(facts[name]), "from": places}
    return marked


def _walk(fact: Any) -> Iterator[Span]:
    if isinstance(fact, Mapping):
        yield from (span for given in fact.get("from") or [] if (span := _span(given)))
        for key, inner in fact.items():
            if key != "from":
                yield from _walk(inner)
    elif isinstance(fact, list):
        for inner in fact:
            if isinstance(inner, (Mapping, list)):
                yield from _walk(inner)


def _span(given: Any) -> Span | None:
    if not isinstance(given, (list, tuple)) or len(given) != 3:
        return None
    message, start, end = given
    whole = all(isinstance(part, int) for part in given)
    return (message, start, end) if whole and message >= 0 and 0 <= start < end else None


def in_order(facts: Mapping[str, Any]) -> list[str]:
    """Return the names of the facts present, the desk's usual ones first."""
    return [name for name in ORDER if name in facts] + sorted(name for name in facts if name not in ORDER)
