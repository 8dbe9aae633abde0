"""What an extractor gets: the text, its tokens and nodes, how it is laid out, and today."""

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import Any, TypeVar, cast

from assistant.reading.layout import BODY, Line
from assistant.reading.node import Node, Nodes
from assistant.reading.settings import ReadingSettings
from assistant.reading.tokens import NEWLINE, WORD, Token
from assistant.reading.vocabulary import Vocabulary

Kept = TypeVar("Kept")
_SENTENCE_ENDS = {".", "!", "?", ";", "*", "\n", "\n\n"}


@dataclass(frozen=True)
class Context:
    """One text with everything that was recognised in it; ``settings`` holds what an extractor's rule file says."""

    text: str
    tokens: tuple[Token, ...]
    nodes: Nodes
    lines: tuple[Line, ...]
    today: date
    locale: str
    channel: str
    vocabulary: Vocabulary
    settings: ReadingSettings
    _kept: dict[str, Any] = field(default_factory=dict, repr=False, compare=False)

    def once(self, name: str, make: Callable[["Context"], Kept]) -> Kept:
        """Return what ``make`` gives for this text, made once however many extractors ask for it."""
        if name not in self._kept:
            self._kept[name] = make(self)
        return cast(Kept, self._kept[name])

    def words(self, node: Node) -> str:
        """Return the client's own words of a node."""
        return self.text[node.start : node.end]

    def before(self, index: int, count: int) -> tuple[str, ...]:
        """Return the folds of up to ``count`` tokens that stand before token ``index``."""
        return tuple(token.fold for token in self.tokens[max(0, index - count) : index])

    def after(self, index: int, count: int) -> tuple[str, ...]:
        """Return the folds of up to ``count`` tokens from token ``index`` on."""
        return tuple(token.fold for token in self.tokens[index : index + count])

    def fold(self, index: int) -> str:
        """Return the fold of a token, or "" outside the text."""
        return self.tokens[index].fold if 0 <= index < len(self.tokens) else ""

    @cached_property
    def _roles(self) -> list[str]:
        roles = [BODY] * len(self.tokens)
        for line in self.lines:
            roles[line.first : line.last] = [line.role] * (line.last - line.first)
        return roles

    def role(self, index: int) -> str:
        """Return the role of the line that holds a token: subject, body, sign_off, signature or quoted."""
        return self._roles[index] if 0 <= index < len(self._roles) else BODY

    @cached_property
    def _sentences(self) -> list[tuple[int, int]]:
        bounds: list[tuple[int, int]] = []
        first = 0
        for index, token in enumerate(self.tokens):
            if token.fold in _SENTENCE_ENDS and not self._inside_abbreviation(index):
                bounds.extend([(first, index + 1)] * (index + 1 - first))
                first = index + 1
        bounds.extend([(first, len(self.tokens))] * (len(self.tokens) - first))
        return bounds

    def _inside_abbreviation(self, index: int) -> bool:
        """Tell whether a point belongs to "p.m.", "no.", "Sat." or a number, so that no sentence ends there."""
        token = self.tokens[index]
        if token.fold != "." or index + 1 >= len(self.tokens) or index == 0:
            return False
        before, after = self.tokens[index - 1], self.tokens[index + 1]
        if after.kind == NEWLINE:
            return False
        glued = before.end == token.start
        return glued and (
            (len(before.fold) == 1 and before.kind == WORD)
            or after.start == token.end
            or self._is_short_form(index - 1)
        )

    def _is_short_form(self, index: int) -> bool:
        return any(self.nodes.is_a(kind, index) for kind in ("month", "weekday", "short_form"))

    def sentence(self, index: int) -> tuple[int, int]:
        """Return the bounds (first token, last token excluded) of the sentence that holds a token."""
        return self._sentences[index] if 0 <= index < len(self._sentences) else (0, len(self.tokens))
