"""One inquiry in a line: day, pieces, range, for lists and the head of its page."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from assistant.desk.context import the_desk
from assistant.desk.fact_fields import pieces_of
from assistant.desk.facts import options_of, value_of
from assistant.desk.formats import span_text
from assistant.desk.people import reach, who
from assistant.store.models import Inquiry


@dataclass(frozen=True)
class Summary:
    """What a list says of an inquiry; ``day`` is ISO or "", ``day_text`` says it or what is known of it."""

    id: int
    who: str
    reach: str
    channel: str
    state: str
    day: str
    day_text: str
    pieces: str
    range: str
    stopped: bool


def summarise(inquiry: Inquiry) -> Summary:
    """Return the summary of an inquiry whose client and addresses are loaded."""
    facts = inquiry.facts
    return Summary(
        id=inquiry.id,
        who=who(inquiry),
        reach=reach(inquiry),
        channel=inquiry.channel,
        state=inquiry.state,
        day=str(value_of(facts.get("event_date")) or ""),
        day_text=_day_text(facts.get("event_date")),
        pieces=pieces_text(facts),
        range=range_text(inquiry.quote),
        stopped=inquiry.client.stopped_at is not None,
    )


def pieces_text(facts: Mapping[str, Any]) -> str:
    """Return "10-12 ft garland, 2 columns"."""
    return ", ".join(_piece_text(piece) for piece in pieces_of(facts))


def range_text(quote: Mapping[str, Any] | None) -> str:
    """Return "$475 to $575", or "" without a range."""
    low, high = (quote or {}).get("low"), (quote or {}).get("high")
    return the_desk().formats.money_range(low, high) if isinstance(low, int) and isinstance(high, int) else ""


def _piece_text(piece: Mapping[str, Any]) -> str:
    kind = the_desk().words.of("kinds", piece.get("kind")).lower()
    count = piece.get("count") or 1
    sizes = [span_text(piece.get(f"{size}_ft")) for size in ("length", "width", "height")]
    size = " by ".join(part for part in sizes if part)
    named = f"{size} ft {kind}" if size else kind
    return f"{count} × {named}" if isinstance(count, int) and count > 1 else named


def _day_text(fact: Any) -> str:
    formats = the_desk().formats
    value = value_of(fact)
    if isinstance(value, str):
        return formats.day(value)
    options = [formats.day(option) for option in options_of(fact)]
    if options:
        return f"{options[0]} or {len(options) - 1} other{'s' if len(options) > 2 else ''}"
    span = fact.get("span") if isinstance(fact, Mapping) else None
    return f"between {formats.day(span[0])} and {formats.day(span[1])}" if span else ""
