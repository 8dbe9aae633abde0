"""Where a conversation stands when the next step is chosen; everything the rules may look at."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from assistant.inquiry.known import Facts, doubtful_names, is_known, known_names, pieces_of, possible_days, value_of

FAR_AHEAD = 9999


@dataclass(frozen=True)
class Situation:
    """One inquiry at one moment: its sheet, what was said and asked, and what calendar and price book answered.

    ``kind`` and ``facts`` are the sheet's; ``texts`` are the client's messages so far, the last one last;
    ``asked`` counts each question put; ``rounds`` counts our texts that held questions; ``last_asked`` is what the
    latest of them asked; ``left_open`` names questions answered with "not sure" (Step.left_open of earlier steps);
    ``handed_over`` names the hand-overs the client was told of and the designer has not yet
    taken up; ``verdict`` and ``quote`` are what `assistant dates` and `assistant price` print.
    """

    kind: str
    facts: Facts
    today: date
    texts: tuple[str, ...] = ()
    language: str = "en"
    channel: str = "sms"
    state: str = "open"
    opted_out: bool = False
    handed_over: tuple[str, ...] = ()
    asked: Mapping[str, int] = field(default_factory=dict)
    last_asked: tuple[str, ...] = ()
    left_open: tuple[str, ...] = ()
    rounds: int = 0
    files: int = 0
    verdict: Mapping[str, Any] | None = None
    quote: Mapping[str, Any] | None = None

    @property
    def text(self) -> str:
        """The client's last message."""
        return self.texts[-1] if self.texts else ""


def days_ahead(facts: Facts, today: date) -> int:
    """Return the days from ``today`` to the event, the latest possible one if several are; 9999 without a date."""
    days = possible_days(facts.get("event_date"))
    return (days[-1] - today).days if days else FAR_AHEAD


def named_values(situation: Situation, *, counts: Mapping[str, int], open_musts: Mapping[str, bool]) -> dict[str, Any]:
    """Return the values of all names that conditions may use; see inquiry.conditions.NAMES for their meaning.

    ``counts`` tells how many of the client's texts raised each flag; ``open_musts`` names the questions that must be
    answered and are not, each with whether an assumption may stand in.
    """
    facts = situation.facts
    return {
        "kind": situation.kind,
        "channel": situation.channel,
        "language": situation.language,
        "state": situation.state,
        "known": known_names(facts),
        "unclear": doubtful_names(facts),
        "pieces": [str(piece.get("kind")) for piece in pieces_of(facts)],
        "occasion": _word(facts, "occasion"),
        "setting": _word(facts, "setting"),
        "days_ahead": days_ahead(facts, situation.today),
        "rounds": situation.rounds,
        "misread": max(
            (situation.asked.get(name, 0) for name, assumed in open_musts.items() if not assumed), default=0
        ),
        "missing": [name for name, assumed in open_musts.items() if not assumed],
        "counts": dict(counts),
        "verdict": str((situation.verdict or {}).get("verdict", "")),
        "price": int((situation.quote or {}).get("likely", 0)) // 100,
        "budget": _upper_budget(facts),
        "files": situation.files,
    }


def _word(facts: Facts, name: str) -> str:
    return str(value_of(facts[name])) if is_known(facts, name) else ""


def _upper_budget(facts: Facts) -> int:
    ends = [end for end in value_of(facts.get("budget")) or [] if end is not None]
    return int(max(ends)) if ends else 0
