"""Brings the readings of one conversation together: later words correct earlier ones, nothing turns certain alone.

Each fact has its own small keeper with one method, ``hear``; a keeper is told every finding of its fact in order.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from assistant.inquiry.merge_dates import DateKeeper
from assistant.inquiry.merge_lists import ColourKeeper
from assistant.inquiry.merge_pieces import PieceKeeper
from assistant.inquiry.merge_values import ValueKeeper
from assistant.reading.findings import Finding, Reading

PLAIN = ("budget", "name")
PIECE_KEYS = ("pieces", "size", "count", "number")
LAST = ("event_time", "occasion", "setting", "place", "strike", "density", *PLAIN)


@dataclass(frozen=True)
class Edit:
    """The designer's own correction at that point of the conversation: facts that replace, None takes one away."""

    facts: Mapping[str, Any]


@dataclass(frozen=True)
class Sheet:
    """What is known of one event; the kind is that of the last message.

    ``facts`` has the contract's shape; ``sources`` holds for each fact its words as [message index, start, end].
    """

    kind: str
    facts: dict[str, Any]
    sources: dict[str, list[list[int]]] = field(default_factory=dict)


def merge(readings: Sequence[Reading | Edit], *, today: date) -> Sheet:
    """Return the fact sheet after the last of ``readings``, the client's texts in order with edits between them."""
    keepers = _Keepers(today)
    edited: dict[str, Any] = {}
    kind, message = "other", -1
    for entry in readings:
        if isinstance(entry, Edit):
            keepers.edit(entry.facts)
            edited.update(entry.facts)
            continue
        message += 1
        kind = entry.kind
        for finding in entry.findings:
            keepers.hear(finding, message, entry.corrects)
            edited.pop("pieces" if finding.key in PIECE_KEYS else finding.key, None)
    facts = keepers.facts() | {key: value for key, value in edited.items() if value is not None}
    return Sheet(kind, facts, keepers.sources(facts))


class _Keepers:
    """One keeper for each fact."""

    def __init__(self, today: date) -> None:
        self.dates = DateKeeper(today)
        self.pieces = PieceKeeper()
        self.colours = ColourKeeper()
        self.values = {key: ValueKeeper(key in PLAIN, key == "event_time") for key in LAST}

    def hear(self, finding: Finding, message: int, corrects: bool = False) -> None:
        """Tell the finding to its fact's keeper; ``corrects``: its text holds words of change."""
        if finding.key == "event_date":
            self.dates.hear(finding, message)
        elif finding.key == "number" and self.dates.awaits_number(finding.value, message):
            self.dates.number(finding, message)
        elif finding.key in PIECE_KEYS:
            self.pieces.hear(finding, message)
        elif finding.key == "colours":
            self.colours.hear(finding, message)
        elif finding.key in self.values:
            self.values[finding.key].hear(finding, message, corrects)

    def edit(self, facts: Mapping[str, Any]) -> None:
        """Put the designer's facts in the place of what was heard so far."""
        for key, fact in facts.items():
            for name, keeper in self._named():
                if name == key:
                    keeper.edit(fact)

    def _named(self) -> Iterable[tuple[str, Any]]:
        yield "event_date", self.dates
        yield "pieces", self.pieces
        yield "colours", self.colours
        yield from self.values.items()

    def facts(self) -> dict[str, Any]:
        """Return the facts that are there."""
        told = {name: keeper.fact() for name, keeper in self._named()}
        return {name: fact for name, fact in told.items() if fact not in (None, [])}

    def sources(self, facts: Mapping[str, Any]) -> dict[str, list[list[int]]]:
        """Return the client's words behind each fact."""
        told = {name: keeper.source() for name, keeper in self._named() if name in facts}
        return {name: source for name, source in told.items() if source}
