"""Values of facts and figures in words, where the page only shows them."""

from collections.abc import Mapping
from typing import Any

from assistant.desk.formats import Formats, as_date, plain_number, span_text
from assistant.desk.words import Words
from assistant.wording.segments import segments

_GROUPS = ("densities", "settings", "kinds", "occasions")


class FactText:
    """Writes values with the desk's words and formats."""

    def __init__(self, words: Words, formats: Formats) -> None:
        self._words, self._formats = words, formats

    def value(self, value: Any) -> str:
        """Return a fact's value in words; nothing is "not known"."""
        if value is None or value in ([], ""):
            return "not known"
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, Mapping):
            shares = [f"{name.replace('_', ' ')} {plain_number(round(share * 100))} %" for name, share in value.items()]
            return ", ".join(shares) or "all plain"
        if isinstance(value, (list, tuple)):
            words = [self.value(item) for item in value]
            return span_text(value) if all(isinstance(item, int | float) for item in value) else ", ".join(words)
        return self._word(str(value)) if isinstance(value, str) else plain_number(value)

    def pack(self, pack: Any) -> str:
        """Return what to buy: "11 in blush: 1 bag of 50, $12 (4 left over)"."""
        if not isinstance(pack, Mapping):
            return str(pack)
        bags = " and ".join(_bags(bag) for bag in pack.get("bags") or [])
        left = f", {pack['left']} left over" if pack.get("left") else ""
        return f"{pack.get('size', '')} {pack.get('colour', '')}: {bags}, {self._formats.money(pack.get('cost'))}{left}"

    def _word(self, text: str) -> str:
        for group in _GROUPS:
            if text in self._words.group(group):
                return self._words.of(group, text).lower()
        return self._formats.day(text) if as_date(text) else text


def _bags(bag: Mapping[str, Any]) -> str:
    number = bag.get("number", 1)
    return f"{number} bag{'s' if number != 1 else ''} of {bag.get('count')}"


def count_text(text: str, channel: str) -> str:
    """Return how long a reply is: characters, and for a text message the parts it is sent in."""
    letters = f"{len(text)} character{'s' if len(text) != 1 else ''}"
    if channel != "sms":
        return letters
    parts = len(segments(text).parts)
    return f"{letters}, {parts} part{'s' if parts != 1 else ''}"


def rows_for(text: str | None) -> int:
    """Return how many rows a text needs on a phone, between 5 and 16."""
    lines = (text or "").split("\n")
    return max(5, min(16, sum(1 + len(line) // 38 for line in lines) + 1))
