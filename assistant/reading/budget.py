"""Budget: what the client will spend, as [low, high]; not a deposit, not another's price, no count and no size.

Nodes: ``money`` (low, high) is an amount with its currency or with "grand" or "k".
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from assistant.reading import place
from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.layout import QUOTED, SIGNATURE
from assistant.reading.node import Node

RULES = Rules()

LEAST_BARE, MOST = 40, 100_000  # an amount without a currency outside these is none (common practice, no source)
REACH_BEFORE, REACH_AFTER = 6, 6
_NEAR = 5
MOST_AMOUNTS = 60  # numbers of one text that are weighed
_CUES = ("at_most", "at_least", "about", "between", "budget_word", "other_money")


@RULES.rule("amount of a currency", "money", kind("currency"), kind("number", "range"))
def symbol_first(_currency: Node, amount: Node) -> object:
    return _pair(amount)


@RULES.rule("amount with its currency after", "money", kind("number", "range"), kind("currency"))
def symbol_last(amount: Node, currency: Node) -> object:
    return None if currency.end - currency.start == 1 else _pair(amount)


@RULES.rule("a grand", "money", kind("number", "range"))
def grand(amount: Node) -> object:
    """Take "a grand", "1.5k" and "two thousand" as money; other bare numbers need more words."""
    last = amount.parts[-1] if amount.parts else None
    return _pair(amount) if last is not None and last.kind == "multiplier" and last.value == "1000" else None


@RULES.rule("two to three hundred", "range", kind("range"), kind("multiplier"))
def hundreds(amount: Node, multiplier: Node) -> object:
    times = Fraction(multiplier.value)
    return (amount.value[0] * times, amount.value[1] * times) if times >= 100 and amount.value[1] < 100 else None


@RULES.rule(
    "money to money", "money", kind("money"), word("-", "to", "and", "or", "a", "y", "o"), kind("money", "number")
)
def money_to_money(low: Node, high: Node) -> object:
    top = high.value if high.kind == "number" else high.value[1]
    single = low.value[0] == low.value[1]
    return (low.value[0], top) if single and low.value[0] < top <= 10 * low.value[0] else None


@RULES.rule("couple of hundred", "money", kind("number"), maybe("of"), kind("hundreds"))
def couple_hundred(amount: Node, _hundreds: Node) -> object:
    return (amount.value * 100, amount.value * 100) if amount.value < 20 else None


def _pair(amount: Node) -> tuple[Fraction, Fraction]:
    low, high = amount.value if amount.kind == "range" else (amount.value, amount.value)
    return (Fraction(low), Fraction(high))


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount that may be the budget, the words that say how, and the weight of the reasons."""

    node: Node
    cues: tuple[Node, ...]
    weight: int

    def has(self, *kinds: str) -> bool:
        """Tell whether a cue of one of these kinds stands beside the amount."""
        return any(cue.kind in kinds for cue in self.cues)


def find(context: Context) -> list[Finding]:
    """Return the budget: the amount with the most reasons, the last one of equals."""
    amounts = [amount for node in _amounts(context) if (amount := _weighed(context, node)) is not None]
    if not amounts:
        return []
    best = max(amounts, key=lambda amount: (amount.weight, amount.node.first))
    cues = [cue.span for cue in best.cues if cue.kind != "budget_word"]
    rule = "at most" if best.has("at_most") else "at least" if best.has("at_least") else "an amount to spend"
    return [Finding("budget", _bounds(best), spans=(best.node.span, *sorted(cues)), rule=rule)]


def _bounds(amount: Amount) -> list[float | int | None]:
    low, high = _pair(amount.node) if amount.node.kind != "money" else amount.node.value
    if low != high and not amount.has("at_most"):
        return [_plain(low), _plain(high)]
    if amount.has("at_least") and not amount.has("at_most"):
        return [_plain(low), None]
    return [None, _plain(high)] if low == high or not amount.has("between") else [_plain(low), _plain(high)]


def _plain(value: Fraction) -> float | int:
    return int(value) if value.denominator == 1 else round(float(value), 2)


def _amounts(context: Context) -> list[Node]:
    taken = context.nodes.of("length", "area", "sized", "ordinal", "figures", "storey")
    found: list[Node] = []
    for node in sorted(context.nodes.longest("money", "number", "range"), key=_order):
        inside = any(other.meets(node) for other in taken if other.rule != "number by number")
        if found and node.first < found[-1].last:
            if node.kind == "money" and node.covers(found[-1]) and node.length > found[-1].length:
                found[-1] = node
            continue
        if not inside and context.role(node.first) not in (SIGNATURE, QUOTED):
            found.append(node)
    return found[:MOST_AMOUNTS]


def _order(node: Node) -> tuple[int, int, bool]:
    """Take "2-3 hundred" as two to three hundred before "2 to 300"."""
    wide = isinstance(node.value, tuple) and node.value[1] > 20 * node.value[0]
    return (node.first, -node.last, wide)


def _weighed(context: Context, node: Node) -> Amount | None:
    """Return the amount with its cues, or None when the words say that it is no budget."""
    cues = _cues(context, node)
    if _gap(node, cues, "other_money") <= min(_gap(node, cues, "budget_word"), _NEAR):
        return None
    high = node.value[1] if node.kind in ("money", "range") else node.value
    if not LEAST_BARE <= high <= MOST:
        return None
    kinds = {cue.kind for cue in cues}
    if node.kind != "money" and not _is_bare_budget(context, node, kinds):
        return None
    if node.kind == "money" and not kinds - {"about", "other_money"} and not _is_the_answer(context, node):
        return None
    weight = 3 * ("budget_word" in kinds) + 2 * ("at_most" in kinds) + ("between" in kinds) + 2 * (node.kind == "money")
    return Amount(node, tuple(cues), weight - 2 * ("other_money" in kinds))


def _gap(node: Node, cues: Sequence[Node], kind: str) -> int:
    """Return how many words lie between an amount and the nearest cue of a kind; a large number when there is none."""
    gaps = [
        cue.first - node.last if cue.first >= node.last else node.first - cue.last for cue in cues if cue.kind == kind
    ]
    return min(gaps, default=99)


def _cues(context: Context, node: Node) -> list[Node]:
    """Return the money words near an amount in its own sentence, none inside a longer one, no other amount between."""
    first, last = context.sentence(node.first)
    walls = [n for n in context.nodes.of("money") if not n.meets(node)]
    found: list[Node] = []
    for cue in context.nodes.longest(*_CUES):
        before = first <= cue.first and cue.last <= node.first and node.first - cue.last <= REACH_BEFORE
        after = node.last <= cue.first < last and cue.first - node.last <= REACH_AFTER
        between = any(min(cue.first, node.first) < wall.first < max(cue.first, node.first) for wall in walls)
        if (before or after) and not between and _fits(cue, node, before=before):
            found.append(cue)
    return found


def _fits(cue: Node, node: Node, *, before: bool) -> bool:
    """Tell whether a cue stands where it can speak of this amount: "under" right before it, "tops" right after."""
    gap = node.first - cue.last if before else cue.first - node.last
    if cue.kind in ("about", "between", "at_least"):
        return gap <= 2 if before else (gap <= 1 and cue.kind != "between")
    if cue.kind == "at_most":
        return gap <= 3
    return cue.kind != "other_money" or gap <= 4


def _is_bare_budget(context: Context, node: Node, kinds: set[str]) -> bool:
    """Tell whether a number without a currency is money: "500 budget", "can do 300 tops", "under 400"."""
    if _counts_something(context, node) or _is_elsewhere(context, node):
        return False
    value = node.value[1] if node.kind == "range" else node.value
    talk = _is_a_bare_range(context, node) or node.rule == "two to three hundred"
    asks = (
        value >= 100 and context.fold(node.first - 1) in ("with", "for", "con", "por") and _is_the_answer(context, node)
    )
    return asks or talk or "budget_word" in kinds or (bool(kinds & {"at_most", "between"}) and value >= 100)


def _is_a_bare_range(context: Context, node: Node) -> bool:
    """Tell whether "250-300" is the whole text, or its own sentence in a text that speaks of prices."""
    if node.kind != "range" or node.value[1] < 150:
        return False
    first, last = context.sentence(node.first)
    whole = len(context.tokens) <= node.length + 1 and node.value[1] % 5 == 0
    return whole or (bool(context.nodes.of("money_talk")) and last - first <= node.length + 2)


def _counts_something(context: Context, node: Node) -> bool:
    """Tell whether a noun follows that the number counts ("no more than 200 chairs")."""
    after = context.fold(node.last)
    kinds = ("guests", "unit", "piece", "balloon", "owner", "street", "ordinal_ending")
    near = range(node.last, node.last + (2 if context.tokens[node.last - 1].end < len(context.text) else 1))
    counted = any(
        context.nodes.is_a(kind, index)
        for kind in kinds
        for index in near
        if index == node.last or kind in ("guests", "balloon")
    )
    plural = (
        after.endswith("s")
        and len(after) > 3
        and after not in ("thanks", "plus", "unless", "bucks", "tops", "this", "less")
    )
    return counted or plural


def _is_elsewhere(context: Context, node: Node) -> bool:
    """Tell whether the number is part of a date, a phone number, a street or a year."""
    before, after = context.fold(node.first - 1), context.fold(node.last)
    if node.first in place.taken(context):
        return True
    glued = before in ("-", "/", "#", ":") and context.tokens[node.first - 1].end == node.start
    follows = after in ("/", ":") or (after == "-" and context.fold(node.last + 1).isdecimal())
    month = bool(context.nodes.ending("month", node.first))
    year = node.kind == "number" and node.value in range(2020, 2040) and node.end - node.start == 4
    return glued or follows or month or year


def _is_the_answer(context: Context, node: Node) -> bool:
    """Tell whether a sum of money is the whole answer ("around $400") or what the money should buy ("for $300")."""
    first, last = context.sentence(node.first)
    words: Sequence[str] = [context.fold(index) for index in range(first, last)]
    alone = last - first <= node.length + 3 and not any(
        context.nodes.is_a("piece", index) for index in range(first, last)
    )
    buys = context.fold(node.first - 1) in ("for", "with", "por", "con") and bool(
        {"get", "what", "do", "que", "something"} & set(words)
    )
    fine = {"ok", "fine", "good", "okay"} & set(context.after(node.last, 4))
    return alone or buys or bool(fine)
