"""Which texts need the designer's yes: decided by their step, and verified on the finished text."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import ClassVar

from assistant.inquiry.phrases import PhraseIndex

# Every text of these steps bears a price or promises a day.
NEVER_ALONE = ("draft", "accept")
STEPS = ("ask", "answer", "hand_over", "opt_out", "opt_in", "help", "decline")


@dataclass(frozen=True)
class Approval:
    """rules/approval.yaml."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    without_yes: list[str]
    price_words: dict[str, list[str]]
    promise_words: dict[str, list[str]]

    def __post_init__(self) -> None:
        for step in self.without_yes:
            if step in NEVER_ALONE:
                raise ValueError(f"'{step}' bears a price or promises a day: take it out, it always needs a yes")
            if step not in STEPS:
                raise ValueError(f"the step '{step}' is not known: give one of {', '.join(STEPS)}")

    @cached_property
    def _price_index(self) -> PhraseIndex:
        return _index(self.price_words)

    @cached_property
    def _promise_index(self) -> PhraseIndex:
        return _index(self.promise_words)

    def bears_price(self, text: str) -> bool:
        """Tell whether ``text`` holds a currency sign or a word of money, in any language."""
        if any(unicodedata.category(char) == "Sc" for char in text):
            return True
        return bool(self._price_index.raised(text))

    def promises_date(self, text: str) -> bool:
        """Tell whether ``text`` holds a wording that promises a day, in any language."""
        return bool(self._promise_index.raised(text))

    def may_go_alone(self, step: str, *, bears_price: bool, promises_date: bool) -> bool:
        """Tell whether a text of this step may leave without a yes."""
        return step in self.without_yes and not bears_price and not promises_date


def _index(by_language: Mapping[str, list[str]]) -> PhraseIndex:
    return PhraseIndex({"found": [word for words in by_language.values() for word in words]})
