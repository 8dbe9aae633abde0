"""Colours of a job: the share of each, and the finish that colour words call for."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from assistant.pricing.goods import FinishWords


def colour_shares(count: int, rules: Mapping[str, Sequence[Decimal]]) -> tuple[Decimal, ...]:
    """Return the share of each of ``count`` colours in the order said.

    Beyond the longest row of the rules, the last share of that row is split evenly among the rest.
    """
    if str(count) in rules:
        return tuple(rules[str(count)])
    longest = rules[max(rules, key=int)]
    rest = count - len(longest) + 1
    return (*longest[:-1], *([longest[-1] / rest] * rest))


def finish_of(colour: str, words: FinishWords) -> str:
    """Return the finish a colour word calls for: mirror, doubled or plain; "chrome gold" counts as chrome."""
    padded = f" {colour} "
    for finish, listed in (("mirror", words.mirror), ("doubled", words.doubled)):
        if any(f" {word} " in padded for word in listed):
            return finish
    return "plain"


def finish_shares(colours: Sequence[str], shares: Sequence[Decimal], words: FinishWords) -> dict[str, Decimal]:
    """Return the share of balloons in each finish, from the colour words and their shares alone."""
    found = {"mirror": Decimal(0), "doubled": Decimal(0), "plain": Decimal(0)}
    for colour, share in zip(colours, shares, strict=True):
        found[finish_of(colour, words)] += share
    return found
