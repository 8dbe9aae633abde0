"""Where a text names a piece: which words are one, what stands before them, and how many are meant."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from assistant.reading import place
from assistant.reading.context import Context
from assistant.reading.layout import QUOTED, SIGNATURE
from assistant.reading.node import Node
from assistant.reading.pieces_counts import count_apart
from assistant.reading.pieces_figures import figures

MOST_NOUNS = 60  # pieces of one text; what a longer text names after them is not read
MOST_PIECES = 500  # a higher number before a piece counts something else (common practice, no source)
SIZE_KINDS = ("area", "sized", "length")
NO_PLURAL_MARK = {"balloons", "globos", "mesa", "mesas", "pass", "s"}
COUNT_MARKS = ("no", "nos", "x", "nr", "qty", "pcs", "of")
ONLY_OF_BALLOONS = {"hoop", "column", "bouquet", "garland"}


@dataclass(frozen=True, slots=True)
class Noun:
    """One place where a piece is named; ``start`` is the first token of its phrase, ``first`` that of the noun."""

    kind: str
    node: Node
    start: int
    count: int | None = None
    plural: bool = False
    definite: bool = False
    another: bool = False
    figures: str = ""

    @property
    def first(self) -> int:
        """The noun's first token."""
        return self.node.first

    @property
    def last(self) -> int:
        """The token after the noun."""
        return self.node.last


def nouns(context: Context) -> list[Noun]:
    """Return every piece that the text names, in order, with its determiner and its count read."""
    taken = place.taken(context)
    found = [_figures_noun(context, node) for node in figures(context) if node.first not in taken]
    figured = tuple(found)
    for node in _candidates(context):
        if any(index in taken for index in range(node.first, node.last)) or any(node.meets(f.node) for f in figured):
            continue
        if context.fold(node.first - 1) in ("per", "each", "every", "cada", "por"):
            continue  # "5 balloons per bouquet" asks for no further bouquet
        noun = _noun(context, node)
        if node.kind == "piece" or _is_wanted_bare(context, noun):
            found.append(noun)
    return sorted(found, key=lambda noun: noun.first)


def _figures_noun(context: Context, node: Node) -> Noun:
    count = len(node.value) or None
    start = phrase_start(context, node.first)
    return Noun("marquee", node, start, count, plural=count != 1, figures=node.value)


def _candidates(context: Context) -> Iterator[Node]:
    others = context.nodes.longest("made_of", "owner", "setting", "sign_off")
    reach, taken = -1, 0
    for node in sorted(context.nodes.longest("piece", "bare_piece"), key=lambda n: (n.first, n.kind != "piece")):
        if node.first < reach or context.role(node.first) in (QUOTED, SIGNATURE):
            continue
        longer = (
            other for other in others if other.covers(node) and (other.kind == "made_of" or other.length > node.length)
        )
        if not any(longer):
            reach = node.last
            taken += 1
            yield node
            if taken >= MOST_NOUNS:
                return


def _noun(context: Context, node: Node) -> Noun:
    start = phrase_start(context, node.first)
    noun = Noun(node.value, node, start, plural=_is_plural(context, node))
    noun = replace(noun, count=_count(context, noun))
    definite = any(
        n.last <= node.first for i in (start, start - 1) for n in context.nodes.at(i) if n.kind == "definite"
    )
    another = any(n.kind == "another" for i in range(max(0, start - 2), start + 1) for n in context.nodes.at(i))
    return replace(noun, definite=definite and noun.count is None, another=another)


def phrase_start(context: Context, first: int) -> int:
    """Walk left over adjectives, colours, sizes, counts and brackets that belong to the noun."""
    at = first
    while at > 0:
        step = _modifier_before(context, at)
        if step is None:
            return at
        at = step
    return at


def _modifier_before(context: Context, at: int) -> int | None:
    for kind in ("area", "sized", "length", "piece_adjective", "balloon", "colour", "shade", "count_word", "number"):
        ending = [node for node in context.nodes.ending(kind, at) if not _is_a_day(context, node)]
        if ending:
            return min(node.first for node in ending)
    fold = context.fold(at - 1)
    if fold == ")" and context.fold(at - 3) == "(" and context.nodes.ending("number", at - 1):
        return at - 3
    if fold == "-" and at > 1 and context.tokens[at - 2].end == context.tokens[at - 1].start:
        return at - 1
    short_form = fold == "." and context.fold(at - 2) in ("no", "nos", "nr")
    if (short_form or fold in COUNT_MARKS) and _counts_before(context, at):
        return at - 2 if short_form else at - 1
    return None


def _counts_before(context: Context, at: int) -> bool:
    """Tell whether a number stands one or two tokens before ("2 no.", "2 x", "12 pcs of")."""
    return any(context.nodes.ending("number", at - back) for back in (1, 2))


def _is_a_day(context: Context, node: Node) -> bool:
    """Tell whether a number belongs to a date, a time, money or an age, so that it counts no piece."""
    kinds = ("month", "money", "day", "clock", "currency")
    return node.kind == "number" and (
        context.fold(node.first - 1) in ("$", "£", "€", "#")
        or (context.fold(node.first - 1) in ("/", ":") and context.fold(node.first - 2).isdecimal())
        or any(context.nodes.ending(kind, node.first) for kind in kinds)
        or bool(context.nodes.beginning("currency", node.last))
    )


def _is_plural(context: Context, node: Node) -> bool:
    folds = [context.fold(index) for index in range(node.first, node.last)]
    return any(fold.endswith("s") and fold not in NO_PLURAL_MARK for fold in folds)


def _count(context: Context, noun: Noun) -> int | None:
    """Return how many are meant: the number before, the number after, or one for a singular."""
    before = _number_in(context, noun.start, noun.first)
    after = _number_after(context, noun.last) if before is None else None
    apart = (
        count_apart(context, noun.kind, noun.last, plural=noun.plural)
        if after is None and before in (None, 1)
        else None
    )
    if apart is not None:
        return apart
    if before is not None or after is not None:
        return before if before is not None else after
    return None if noun.plural else 1


def _number_in(context: Context, start: int, end: int) -> int | None:
    sized = [node for node in context.nodes.longest(*SIZE_KINDS) if start <= node.first < end]
    for kind in ("number", "count_word"):
        for node in reversed([n for n in context.nodes.longest(kind) if start <= n.first and n.last <= end]):
            inside = any(size.covers(node) for size in sized)
            if not inside and _counts(node) and not _is_a_day(context, node):
                return int(node.value)
    return None


def _counts(node: Node) -> bool:
    if node.kind == "count_word":
        return True
    return bool(node.value.denominator == 1 and 1 <= node.value <= MOST_PIECES)


def _number_after(context: Context, last: int) -> int | None:
    """Read "columns x 2", "columns (2)", "centerpieces: 12", "centerpieces - 12"."""
    mark = context.fold(last)
    if mark not in (":", "x", "(", "-", "=", "qty"):
        return None
    for node in context.nodes.beginning("number", last + 1):
        measured = any(context.nodes.beginning(kind, node.first) for kind in SIZE_KINDS)
        closed = context.fold(node.last) in ("", "\n", "\n\n", ")", ",", ".", ";", "*", "and", "y", "&")
        times = mark == "x" and context.fold(node.last) not in ("x", "by")  # "columns x2 purple"
        if not measured and (closed or times) and _counts(node):
            return int(node.value)
    return None


def _is_wanted_bare(context: Context, noun: Noun) -> bool:
    """Tell whether "wall", "ring" or "drop" is a piece here rather than a part of the venue."""
    of_balloons = _near_balloons(context, noun)
    if noun.kind in ONLY_OF_BALLOONS or noun.kind == "drop":
        return of_balloons
    if noun.kind == "ceiling":
        return _ceiling_is_filled(context, noun)
    if noun.definite and not of_balloons:
        return False
    counted = _number_in(context, noun.start, noun.first) is not None or noun.start < noun.first
    headed = context.fold(noun.start - 1) in ("", "\n", "\n\n", ":", "*") and context.fold(noun.last) != "of"
    prepositions = context.nodes.ending("standing_on", noun.start)
    return of_balloons or ((counted or headed) and not prepositions and not noun.definite)


def _near_balloons(context: Context, noun: Noun) -> bool:
    if any(noun.start <= n.first < noun.first for n in context.nodes.of("balloon")):
        return True
    led = context.before(noun.first, 2) in (("for", "a"), ("for", "the"), ("as", "a"))
    if noun.kind == "drop" and led and any(noun.first - 6 <= n.first < noun.first for n in context.nodes.of("balloon")):
        return True
    of = context.fold(noun.last) in ("of", "de", "with", "con", "w")
    return of and any(noun.last < n.first <= noun.last + 4 for n in context.nodes.of("balloon"))


def _ceiling_is_filled(context: Context, noun: Noun) -> bool:
    """Tell whether balloons are to go on the ceiling, and no other piece is what hangs there."""
    first, last = context.sentence(noun.first)
    if context.after(noun.last, 2) == ("full", "of") and any(
        context.nodes.is_a("balloon", noun.last + n) for n in (2, 3)
    ):
        return True
    balloons = any(first <= n.first < last for n in context.nodes.of("balloon"))
    others = any(first <= n.first < last for n in context.nodes.of("piece"))
    determiner = context.fold(noun.first - 1) in ("the", "our", "el", "entire", "whole")
    leads = context.after(max(first, noun.first - 4), 4)
    put = any(
        word in leads
        for word in ("on", "cover", "covering", "covered", "for", "across", "over", "along", "fill", "en", "all")
    )
    return balloons and not others and determiner and put
