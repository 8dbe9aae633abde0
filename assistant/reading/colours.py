"""Colours: the client's own colour words, in order; and those that they rule out or replace.

Nodes: ``colour`` (the colour word in lower case, typos mended), built from the lists and from a shade before it.
"""

from collections.abc import Sequence

from assistant.reading.colours_scope import chains, ruled_out, swapped_away
from assistant.reading.colours_words import is_meant
from assistant.reading.context import Context
from assistant.reading.findings import GIVE, ONLY, WITHDRAW, Finding
from assistant.reading.grammar import Rules, kind
from assistant.reading.node import Node

RULES = Rules()


@RULES.rule("shade and colour", "colour", kind("shade"), kind("colour"))
def shade_and_colour(shade: Node, colour: Node) -> object:
    """Read "dark green"; a shade is not doubled."""
    return None if colour.value.startswith(shade.value) else f"{shade.value} {colour.value}"


@RULES.rule("colour and its shade", "colour", kind("colour"), kind("shade_after", "finish_after"))
def colour_and_shade(colour: Node, shade: Node) -> object:
    """Read "verde oscuro" and "gold chrome"."""
    return None if colour.rule != "word" else f"{colour.value} {shade.value}"


def find(context: Context) -> list[Finding]:
    """Return one finding for each colour word: give, or withdraw what is ruled out."""
    meant = is_meant(context)
    out = ruled_out(context, meant) + swapped_away(context, meant)
    found: list[Finding] = []
    seen: set[tuple[str, str]] = set()
    given = [node for node in meant if node not in out]
    anew = _starts_anew(context, given)
    for node in meant:
        mode = WITHDRAW if node in out else ONLY if anew and node is given[0] else GIVE
        if (node.value, mode) not in seen and (node.value, ONLY) not in seen:
            seen.add((node.value, mode))
            found.append(_finding(node, mode))
    return found


def _finding(node: Node, mode: str) -> Finding:
    rule = {WITHDRAW: "a colour that is ruled out", ONLY: "colours said anew", GIVE: "a colour word"}[mode]
    if node.typo:
        rule += ", its spelling mended"
    return Finding("colours", node.value, spans=(node.span,), rule=rule, mode=mode)


def _starts_anew(context: Context, given: Sequence[Node]) -> bool:
    """Tell whether several colours stand in the place of all said before ("actually lets do navy and gold")."""
    chain = next(iter(chains(context, given)), [])
    if len(chain) < 2:
        return False
    first, last = context.sentence(chain[0].first)
    changed = any(first <= node.first < chain[0].first for node in context.nodes.of("replaces"))
    more = any(first <= node.first < last for node in context.nodes.of("more_colours"))
    return changed and not more
