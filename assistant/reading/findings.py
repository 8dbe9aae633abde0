"""What a reading holds: findings, one for each thing the text says about a fact."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

Span = tuple[int, int]

GIVE, WITHDRAW, ONLY, CONSIDER, SHIFT, KEEP = "give", "withdraw", "only", "consider", "shift", "keep"
UNSETTLE = "unsettle"


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that a text says about one fact.

    key: the fact (event_date, event_time, occasion, pieces, size, count, colours, setting, place, budget, name).
    value: the fact's value; for pieces and size a dict in feet; None when there are only options.
    status: stated, inferred, unclear or impossible. options: the values that fit, when more than one does.
    spans: the client's words, as (start, end) in the text. rule: the name of the rule that read them.
    why: the reasons in plain words, for the designer. mode: what the words do with the fact:
    give it; withdraw it; only (this one stays, all others of the key go); consider it (not decided);
    shift the date that stood before by ``value``; keep the one that stood before; unsettle it.
    lost: readings that were weighed and left, for ``read --why``.
    """

    key: str
    value: Any = None
    status: str = "stated"
    spans: tuple[Span, ...] = ()
    rule: str = ""
    why: str = ""
    options: tuple[Any, ...] = ()
    mode: str = GIVE
    extra: Mapping[str, Any] | None = None
    lost: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Reading:
    """What one text says: the kind of message it is, and its findings in the order of the text.

    ``spoken`` is the text without its signature and quoted history: what the person says now. ``corrects`` tells
    that words of change ("actually", "no wait") stand in it, so that it may replace what was sure. ``language`` is
    that of the text ("en", "es"), None where it shows none.
    """

    kind: str
    findings: tuple[Finding, ...] = ()
    why: str = ""
    spoken: str = ""
    corrects: bool = False
    language: str | None = None

    def of(self, key: str) -> tuple[Finding, ...]:
        """Return the findings of one fact."""
        return tuple(finding for finding in self.findings if finding.key == key)
