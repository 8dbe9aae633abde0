"""Keeps the colours: those of several messages add up, those ruled out go."""

from typing import Any

from assistant.inquiry.merge_values import places
from assistant.reading.findings import ONLY, WITHDRAW, Finding


class ColourKeeper:
    """Colour words in the order said, each with its places."""

    def __init__(self) -> None:
        self._said: dict[str, list[list[int]]] = {}

    def hear(self, finding: Finding, message: int) -> None:
        """Take one finding into account."""
        if finding.mode == WITHDRAW:
            if finding.value is None:
                self._said.clear()
            self._said.pop(str(finding.value), None)
            return
        if finding.mode == ONLY:
            self._said.clear()
        if finding.value is not None:
            self._said.setdefault(str(finding.value), []).extend(places(finding, message))

    def edit(self, fact: Any) -> None:
        """Take the designer's list."""
        listed = fact.get("value") if isinstance(fact, dict) else fact
        self._said = {str(colour): [] for colour in listed or []}

    def fact(self) -> list[str]:
        """Return the colours."""
        return list(self._said)

    def source(self) -> list[list[int]]:
        """Return the words that gave them."""
        return [place for said in self._said.values() for place in said]
