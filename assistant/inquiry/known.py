"""What a fact sheet says about one fact: known, in doubt, or open at the client's side."""

from collections.abc import Mapping
from datetime import date
from typing import Any

Facts = Mapping[str, Any]

CERTAIN = ("stated", "inferred")
DOUBTFUL = ("unclear", "impossible")


def value_of(fact: Any) -> Any:
    """Return the value of a fact, be it bare or ``{"status", "value"}``; None when there is none."""
    return fact.get("value") if isinstance(fact, Mapping) else fact


def status_of(fact: Any) -> str:
    """Return stated, inferred, unclear or impossible; a bare value is stated, nothing at all is ``""``."""
    if isinstance(fact, Mapping):
        return str(fact.get("status", "stated"))
    return "" if fact is None or fact == [] or fact == "" else "stated"


def is_known(facts: Facts, name: str) -> bool:
    """Tell whether fact ``name`` has a value the studio may act on (stated or inferred)."""
    fact = facts.get(name)
    return status_of(fact) in CERTAIN and value_of(fact) not in (None, [], "")


def in_doubt(facts: Facts, name: str) -> bool:
    """Tell whether something was said about ``name`` that cannot be acted on yet."""
    return status_of(facts.get(name)) in DOUBTFUL


def known_names(facts: Facts) -> list[str]:
    """Return the names of all known facts, sorted."""
    return sorted(name for name in facts if is_known(facts, name))


def doubtful_names(facts: Facts) -> list[str]:
    """Return the names of all facts in doubt, sorted."""
    return sorted(name for name in facts if in_doubt(facts, name))


def pieces_of(facts: Facts) -> list[Mapping[str, Any]]:
    """Return the pieces asked for, one mapping a line of the sheet."""
    rows = value_of(facts.get("pieces")) or []
    return [row for row in rows if isinstance(row, Mapping)]


def possible_days(fact: Any) -> list[date]:
    """Return every day the date fact allows, a span by its two ends only, in order."""
    if not isinstance(fact, Mapping):
        return [date.fromisoformat(fact)] if isinstance(fact, str) else []
    if fact.get("value"):
        return [date.fromisoformat(str(fact["value"]))]
    named = fact.get("options") or fact.get("span") or []
    return sorted(date.fromisoformat(str(day)) for day in named)


def day_is_open(fact: Any) -> bool:
    """Tell whether the client has not settled the day yet: a run of neighbouring days, or a whole span of them.

    Two readings of the same words ("6/7", "next Saturday") lie apart, and an impossible day is a slip: both
    need a word from the client before anything else.
    """
    if status_of(fact) != "unclear":
        return False
    if not fact.get("options"):
        return bool(fact.get("span"))
    days = possible_days(fact)
    return len(days) > 1 and (days[-1] - days[0]).days == len(days) - 1
