"""Cuts a client's text into plain and marked pieces, so that each fact can be followed back to its words."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from assistant.desk.facts import in_order, spans_of


@dataclass(frozen=True)
class Piece:
    """A run of text with the facts it gave; ``anchors`` are the marks that begin here, ``ends`` the facts that end."""

    text: str
    facts: tuple[str, ...] = ()
    anchors: tuple[str, ...] = ()
    ends: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Mark:
    fact: str
    start: int
    end: int
    anchor: str


def cut(texts: Sequence[str], facts: Mapping[str, Any]) -> list[list[Piece]]:
    """Return the pieces of each of the client's texts, in order; overlapping spans share pieces."""
    marks: list[list[_Mark]] = [[] for _ in texts]
    for name in in_order(facts):
        for count, (message, start, end) in enumerate(spans_of(facts[name]), start=1):
            if message < len(texts) and start < len(texts[message]):
                last = min(end, len(texts[message]))
                marks[message].append(_Mark(name, start, last, f"w-{name}-{count}"))
    return [_pieces(text, found) for text, found in zip(texts, marks, strict=True)]


def numbers(facts: Mapping[str, Any]) -> dict[str, int]:
    """Return the small number that ties a fact to its words on the page; only facts with words have one."""
    named = [name for name in in_order(facts) if spans_of(facts[name])]
    return {name: number for number, name in enumerate(named, start=1)}


def _pieces(text: str, marks: list[_Mark]) -> list[Piece]:
    edges = sorted({0, len(text), *(mark.start for mark in marks), *(mark.end for mark in marks)})
    return [_piece(text, start, end, marks) for start, end in pairwise(edges)]


def _piece(text: str, start: int, end: int, marks: list[_Mark]) -> Piece:
    over = [mark for mark in marks if mark.start <= start and end <= mark.end]
    return Piece(
        text=text[start:end],
        facts=tuple(dict.fromkeys(mark.fact for mark in over)),
        anchors=tuple(mark.anchor for mark in over if mark.start == start),
        ends=tuple(dict.fromkeys(mark.fact for mark in over if mark.end == end)),
    )
