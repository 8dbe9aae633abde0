"""Small rules over atoms, and the engine that applies them until nothing new appears.

A rule is a name in plain words, the kind of node it gives, a pattern of one to five parts, and a function that gets
the matched nodes and may decline by returning None::

    RULES = Rules()

    @RULES.rule("weekday the nth", "day", kind("weekday"), maybe("the"), kind("ordinal"))
    def weekday_the_nth(weekday: Node, nth: Node) -> object: ...

Parts: ``kind("a", "b")`` is a node of one of these kinds and is handed to the function; ``word("to", "-")`` is a
token with one of these folds, ``maybe("the", ",")`` the same but it may be absent; neither is handed over.
A rule must not build on its own result without an end: lists are joined by whoever reads the nodes.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from assistant.reading.node import Node, Nodes
from assistant.reading.tokens import Token

Function = Callable[..., object]
MOST_NODES_EACH_TOKEN = 40


@dataclass(frozen=True, slots=True)
class Kind:
    """A part that is a node of one of these kinds."""

    names: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Word:
    """A part that is one token with one of these folds."""

    folds: frozenset[str]
    optional: bool = False


Part = Kind | Word


def kind(*names: str) -> Kind:
    """Match a node of one of these kinds and hand it to the rule's function."""
    return Kind(names)


def word(*folds: str) -> Word:
    """Match one token by its fold."""
    return Word(frozenset(folds))


def maybe(*folds: str) -> Word:
    """Match one token by its fold, or nothing."""
    return Word(frozenset(folds), optional=True)


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule in one of its variants (a ``maybe`` is there, or not)."""

    name: str
    gives: str
    parts: tuple[Part, ...]
    make: Function


class Rules:
    """The rules of one subject, in the order written."""

    def __init__(self) -> None:
        self.all: list[Rule] = []

    def rule(self, name: str, gives: str, *parts: Part) -> Callable[[Function], Function]:
        """Register a function as a rule; see the module's text."""
        if not 1 <= len(parts) <= 6 or not any(isinstance(part, Kind) for part in parts):
            raise ValueError(f"rule '{name}': a pattern has 1 to 6 parts, at least one of them a kind")

        def register(make: Function) -> Function:
            self.all.extend(Rule(name, gives, variant, make) for variant in _variants(parts))
            return make

        return register


def _variants(parts: Sequence[Part]) -> Iterator[tuple[Part, ...]]:
    choices = [(True, False) if isinstance(part, Word) and part.optional else (True,) for part in parts]
    for picks in product(*choices):
        yield tuple(part for part, there in zip(parts, picks, strict=True) if there)


@dataclass(frozen=True, slots=True)
class _Waiting:
    """A rule that waits for a kind at one place of its pattern, with the part before it; ``order``: as written."""

    order: int
    rule: Rule
    place: int
    before: Part | None


class _Waitings:
    """The rules that wait for one kind, indexed by what must follow it: nothing, a word, or a node of a kind."""

    def __init__(self) -> None:
        self.at_end: list[_Waiting] = []
        self.before_word: defaultdict[str, list[_Waiting]] = defaultdict(list)
        self.before_kind: defaultdict[str, list[_Waiting]] = defaultdict(list)

    def add(self, waiting: _Waiting, after: Part | None) -> None:
        """Enter a rule under everything that may follow."""
        if after is None:
            self.at_end.append(waiting)
            return
        index, names = (self.before_word, after.folds) if isinstance(after, Word) else (self.before_kind, after.names)
        for name in names:
            index[name].append(waiting)

    def fitting(self, node: Node, tokens: Sequence[Token], nodes: Nodes) -> list[_Waiting]:
        """Return the rules whose neighbours stand beside ``node``, in the order written; most fall away here."""
        found = list(self.at_end)
        if node.last < len(tokens):
            found += self.before_word.get(tokens[node.last].fold, ())
            if self.before_kind:
                for name in nodes.kinds_beginning(node.last):
                    found += self.before_kind.get(name, ())
        fitting = {one.order: one for one in found if _may_follow(one.before, node, tokens, nodes)}
        return [fitting[order] for order in sorted(fitting)] if len(fitting) > 1 else list(fitting.values())


def _may_follow(before: Part | None, node: Node, tokens: Sequence[Token], nodes: Nodes) -> bool:
    """Tell whether the part before a node stands there."""
    if before is None:
        return True
    if isinstance(before, Word):
        return node.first > 0 and tokens[node.first - 1].fold in before.folds
    kinds = nodes.kinds_ending(node.first)
    return any(name in kinds for name in before.names)


class Grammar:
    """Rules of several subjects, indexed by the kinds they wait for."""

    def __init__(self, rules: Iterable[Rule]) -> None:
        self._waiting: defaultdict[str, _Waitings] = defaultdict(_Waitings)
        order = 0
        for rule in rules:
            for place, part in enumerate(rule.parts):
                for name in part.names if isinstance(part, Kind) else ():
                    before = rule.parts[place - 1] if place else None
                    after = rule.parts[place + 1] if place + 1 < len(rule.parts) else None
                    self._waiting[name].add(_Waiting(order, rule, place, before), after)
                    order += 1

    def parse(self, tokens: Sequence[Token], atoms: Iterable[Node]) -> Nodes:
        """Return the atoms and everything that the rules build on them.

        The work is bounded: at most MOST_NODES_EACH_TOKEN nodes for each token, whatever the text.
        """
        nodes = Nodes()
        fresh = [node for node in atoms if nodes.add(node)]
        most = MOST_NODES_EACH_TOKEN * (len(tokens) + 10)
        while fresh and len(nodes) < most:
            fresh = [node for node in self._next(tokens, nodes, fresh, most - len(nodes)) if nodes.add(node)]
        return nodes

    def _next(self, tokens: Sequence[Token], nodes: Nodes, fresh: Iterable[Node], room: int) -> list[Node]:
        made: list[Node] = []
        for node in fresh:
            waitings = self._waiting.get(node.kind)
            for waiting in waitings.fitting(node, tokens, nodes) if waitings else ():
                for match in _matches(waiting.rule, waiting.place, node, tokens, nodes):
                    result = _make(waiting.rule, match, tokens)
                    if result is not None:
                        made.append(result)
            if len(made) >= room:
                break
        return made


@dataclass(frozen=True, slots=True)
class _Match:
    first: int
    last: int
    nodes: tuple[Node, ...]


def _matches(rule: Rule, place: int, node: Node, tokens: Sequence[Token], nodes: Nodes) -> Iterator[_Match]:
    """Yield every way in which the rule's pattern fits around ``node``, which stands at part ``place``."""
    for left in _grow(rule.parts[:place][::-1], _Match(node.first, node.last, ()), tokens, nodes, -1):
        start = _Match(left.first, node.last, (*left.nodes, node))
        yield from _grow(rule.parts[place + 1 :], start, tokens, nodes, 1)


def _grow(parts: Sequence[Part], so_far: _Match, tokens: Sequence[Token], nodes: Nodes, way: int) -> Iterator[_Match]:
    if not parts:
        yield so_far
        return
    part, rest = parts[0], parts[1:]
    if isinstance(part, Word):
        index = so_far.last if way > 0 else so_far.first - 1
        if 0 <= index < len(tokens) and tokens[index].fold in part.folds:
            yield from _grow(rest, _widen(so_far, index, index + 1, way, None), tokens, nodes, way)
        return
    for name in part.names:
        near = nodes.beginning(name, so_far.last) if way > 0 else nodes.ending(name, so_far.first)
        for node in near:
            yield from _grow(rest, _widen(so_far, node.first, node.last, way, node), tokens, nodes, way)


def _widen(so_far: _Match, first: int, last: int, way: int, node: Node | None) -> _Match:
    added = () if node is None else (node,)
    if way > 0:
        return _Match(so_far.first, last, so_far.nodes + added)
    return _Match(first, so_far.last, added + so_far.nodes)


def _make(rule: Rule, match: _Match, tokens: Sequence[Token]) -> Node | None:
    value = rule.make(*match.nodes)
    if value is None:
        return None
    start, end = tokens[match.first].start, tokens[match.last - 1].end
    typo = sum(node.typo for node in match.nodes)
    return Node(rule.gives, value, start, end, match.first, match.last, rule.name, match.nodes, typo)
