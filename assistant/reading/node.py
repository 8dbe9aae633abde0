"""A node: what some tokens of a text can mean, with the words it came from and the rule that made it."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple


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
        self._seen: set[tuple[object, ...]] = set()
        self._of: defaultdict[str, list[Node]] = defaultdict(list)
        self._begins: defaultdict[tuple[str, int], list[Node]] = defaultdict(list)
        self._ends: defaultdict[tuple[str, int], list[Node]] = defaultdict(list)
        self._at: defaultdict[int, list[Node]] = defaultdict(list)
        self._asked: dict[tuple[str, ...], list[Node]] = {}  # answers of ``of`` and ``longest``, until a node is added
        for node in nodes:
            self.add(node)

    def __len__(self) -> int:
        return len(self._seen)

    def __iter__(self) -> Iterator[Node]:
        for nodes in self._of.values():
            yield from nodes

    def add(self, node: Node) -> bool:
        """Keep a node unless the same reading of the same tokens is there already; tell whether it was new."""
        key = (node.kind, node.first, node.last, node.value)
        if key in self._seen:
            return False
        self._seen.add(key)
        self._asked.clear()
        self._of[node.kind].append(node)
        self._begins[node.kind, node.first].append(node)
        self._ends[node.kind, node.last].append(node)
        self._at[node.first].append(node)
        return True

    def of(self, *kinds: str) -> list[Node]:
        """Return the nodes of these kinds in the order of the text."""
        if kinds not in self._asked:
            found = [node for kind in kinds for node in self._of.get(kind, ())]
            self._asked[kinds] = sorted(found, key=lambda node: (node.first, -node.last))
        return list(self._asked[kinds])

    def longest(self, *kinds: str) -> list[Node]:
        """Return the nodes of these kinds that do not lie inside a longer one of these kinds, in order."""
        asked = ("longest", *kinds)
        if asked in self._asked:
            return list(self._asked[asked])
        kept: list[Node] = []
        reach = -1
        for node in self.of(*kinds):
            if node.last > reach or (kept and kept[-1].first == node.first and kept[-1].last == node.last):
                kept.append(node)
                reach = max(reach, node.last)
        self._asked[asked] = kept
        return list(kept)

    def beginning(self, kind: str, first: int) -> list[Node]:
        """Return the nodes of a kind whose first token is ``first``."""
        return self._begins.get((kind, first), [])

    def ending(self, kind: str, last: int) -> list[Node]:
        """Return the nodes of a kind that end before token ``last``."""
        return self._ends.get((kind, last), [])

    def at(self, first: int) -> list[Node]:
        """Return every node whose first token is ``first``."""
        return self._at.get(first, [])

    def is_a(self, kind: str, first: int) -> bool:
        """Tell whether some node of a kind starts at token ``first``."""
        return (kind, first) in self._begins

    def ends_a(self, kind: str, last: int) -> bool:
        """Tell whether some node of a kind ends before token ``last``."""
        return (kind, last) in self._ends


def outermost(nodes: Iterable[Node]) -> list[Node]:
    """Return the nodes that share no token, the longest first served, in the order of the text."""
    kept: list[Node] = []
    taken: set[int] = set()
    for node in sorted(nodes, key=lambda node: (-node.length, node.first)):
        if taken.isdisjoint(range(node.first, node.last)):
            kept.append(node)
            taken.update(range(node.first, node.last))
    return sorted(kept, key=lambda node: node.first)
