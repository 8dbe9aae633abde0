"""A node: what some tokens of a text can mean, with the words it came from and the rule that made it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

NONE: Mapping[str, list["Node"]] = {}


class Node(NamedTuple):
    """One reading of the tokens ``first`` to ``last`` (last excluded); ``start``/``end`` are places in the text."""

    kind: str
    value: Any
    start: int
    end: int
    first: int
    last: int
    rule: str
    parts: tuple["Node", ...] = ()
    typo: int = 0

    @property
    def span(self) -> tuple[int, int]:
        """The place in the text, as a finding quotes it."""
        return (self.start, self.end)

    @property
    def length(self) -> int:
        """How many tokens it covers."""
        return self.last - self.first

    def covers(self, other: "Node") -> bool:
        """Tell whether ``other`` lies wholly inside this node."""
        return self.first <= other.first and other.last <= self.last

    def meets(self, other: "Node") -> bool:
        """Tell whether the two share a token."""
        return self.first < other.last and other.first < self.last


class Nodes:
    """All nodes of one text, found by kind, by first token and by last token."""

    def __init__(self, nodes: Iterable[Node] = ()) -> None:
        self._count = 0
        self._of: dict[str, list[Node]] = {}
        self._begins: defaultdict[int, dict[str, list[Node]]] = defaultdict(dict)
        self._ends: defaultdict[int, dict[str, list[Node]]] = defaultdict(dict)
        self._asked: dict[tuple[str, ...], list[Node]] = {}  # answers of ``of`` and ``longest``, until a node is added
        for node in nodes:
            self.add(node)

    def __len__(self) -> int:
        return self._count

    def __iter__(self) -> Iterator[Node]:
        for nodes in self._of.values():
            yield from nodes

    def add(self, node: Node) -> bool:
        """Keep a node unless the same reading of the same tokens is there already; tell whether it was new."""
        kind, last = node.kind, node.last
        beginning = self._begins[node.first].setdefault(kind, [])
        for known in beginning:
            if known.last == last and known.value == node.value:
                return False
        beginning.append(node)
        self._ends[last].setdefault(kind, []).append(node)
        self._of.setdefault(kind, []).append(node)
        self._count += 1
        if self._asked:
            self._asked = {}
        return True

    def of(self, *kinds: str) -> list[Node]:
        """Return the nodes of these kinds in the order of the text."""
        found = self._asked.get(kinds)
        if found is None:
            found = [node for kind in kinds for node in self._of.get(kind, ())]
            found.sort(key=lambda node: (node.first, -node.last))
            self._asked[kinds] = found
        return list(found)

    def longest(self, *kinds: str) -> list[Node]:
        """Return the nodes of these kinds that do not lie inside a longer one of these kinds, in order."""
        asked = ("longest", *kinds)
        kept = self._asked.get(asked)
        if kept is None:
            kept = self._asked[asked] = _outer(self.of(*kinds))
        return list(kept)

    def beginning(self, kind: str, first: int) -> list[Node]:
        """Return the nodes of a kind whose first token is ``first``."""
        return self._begins[first].get(kind, []) if first in self._begins else []

    def ending(self, kind: str, last: int) -> list[Node]:
        """Return the nodes of a kind that end before token ``last``."""
        return self._ends[last].get(kind, []) if last in self._ends else []

    def at(self, first: int) -> list[Node]:
        """Return every node whose first token is ``first``."""
        return [node for nodes in self.kinds_beginning(first).values() for node in nodes]

    def kinds_beginning(self, first: int) -> Mapping[str, list[Node]]:
        """Return the nodes whose first token is ``first``, by their kind."""
        return self._begins.get(first, NONE)

    def kinds_ending(self, last: int) -> Mapping[str, list[Node]]:
        """Return the nodes that end before token ``last``, by their kind."""
        return self._ends.get(last, NONE)

    def is_a(self, kind: str, first: int) -> bool:
        """Tell whether some node of a kind starts at token ``first``."""
        return kind in self._begins.get(first, NONE)

    def ends_a(self, kind: str, last: int) -> bool:
        """Tell whether some node of a kind ends before token ``last``."""
        return kind in self._ends.get(last, NONE)


def _outer(nodes: Iterable[Node]) -> list[Node]:
    """Return the nodes, given in the order of the text, that lie in no longer one."""
    kept: list[Node] = []
    reach = -1
    for node in nodes:
        if node.last > reach or (kept and kept[-1].first == node.first and kept[-1].last == node.last):
            kept.append(node)
            reach = max(reach, node.last)
    return kept


def outermost(nodes: Iterable[Node]) -> list[Node]:
    """Return the nodes that share no token, the longest first served, in the order of the text."""
    kept: list[Node] = []
    taken: set[int] = set()
    for node in sorted(nodes, key=lambda node: (-node.length, node.first)):
        if taken.isdisjoint(range(node.first, node.last)):
            kept.append(node)
            taken.update(range(node.first, node.last))
    return sorted(kept, key=lambda node: node.first)
