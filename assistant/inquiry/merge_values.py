"""Keeps a fact of which the last word counts: time, occasion, setting, place, budget, name."""

from typing import Any

from assistant.reading.findings import WITHDRAW, Finding

SURE = "stated"


def places(finding: Finding, message: int) -> list[list[int]]:
    """Return a finding's words as [message index, start, end]."""
    return [[message, start, end] for start, end in finding.spans]


def _on_dial(clock: str) -> tuple[int, int]:
    """Return where "16:30" stands on a clock's face: (4, 30)."""
    hour, minute = map(int, clock.split(":"))
    return hour % 12, minute


def _lighter(new: Finding, old: Finding) -> bool:
    """Tell whether an inference has less behind it than the one before (a venue's kind against its named part)."""
    return bool((new.extra or {}).get("weight", 1) < (old.extra or {}).get("weight", 1))


class ValueKeeper:
    """The last value said; what was only inferred never replaces what was stated."""

    def __init__(self, plain: bool = False, clock: bool = False) -> None:
        self.plain = plain
        self.clock = clock
        self._last: Finding | None = None
        self._from: list[list[int]] = []

    def hear(self, finding: Finding, message: int, corrects: bool = False) -> None:
        """Take one finding into account; ``corrects``: its text has words of change, so it may replace a sure one."""
        if finding.mode == WITHDRAW:
            if finding.value is None or (self._last and self._last.value == finding.value):
                self._last, self._from = None, []
            return
        if self._same_half_unsaid(finding):
            return
        sure_before = self._last is not None and self._last.status == SURE
        weaker = sure_before and finding.status != SURE and not self.clock and not corrects
        if self._last is not None and finding.status == self._last.status and _lighter(finding, self._last):
            return
        if weaker and not (finding.status == "unclear" and finding.value is None and not self.plain):
            return
        self._last, self._from = finding, places(finding, message)

    def _same_half_unsaid(self, finding: Finding) -> bool:
        """Tell whether a time is the one known, its half of the day left unsaid ("4pm", later "at 4")."""
        if not self.clock or finding.status == SURE or self._last is None or not self._last.value:
            return False
        return _on_dial(finding.value) == _on_dial(self._last.value)

    def edit(self, fact: Any) -> None:
        """Take the designer's fact: what she stated is weighed as stated."""
        value = fact.get("value") if isinstance(fact, dict) else fact
        self._last = None if value is None else Finding("edit", value)
        self._from = []

    def fact(self) -> Any:
        """Return the fact in the contract's shape, or None."""
        if self._last is None:
            return None
        value = list(self._last.value) if isinstance(self._last.value, tuple) else self._last.value
        if self.plain:
            return value
        fact: dict[str, Any] = {"status": self._last.status}
        if value is not None:
            fact["value"] = value
        elif self._last.options:
            fact["options"] = list(self._last.options)
        return fact | ({"from": self._from} if self._from else {})

    def source(self) -> list[list[int]]:
        """Return the words that gave the value."""
        return self._from
