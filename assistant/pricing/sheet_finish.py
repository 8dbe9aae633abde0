"""Reads colours and finish of a fact sheet."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any, cast

from assistant.pricing.book import PriceBook
from assistant.pricing.colours import colour_shares, finish_shares
from assistant.pricing.given import FactWrong, Given, given, number
from assistant.pricing.job import Assumed
from assistant.pricing.unknowns import Between, exactly

ONE = Decimal(1)


def colours_of(fact: Given) -> tuple[str, ...]:
    """Return the colour words in the order said, each once."""
    listed = fact.value or []
    if not isinstance(listed, list | tuple) or len(listed) > 50:
        raise FactWrong('facts.colours: no list of colour words: write ["blush", "gold"]')
    words = [item.get("value") if isinstance(item, Mapping) else item for item in listed]
    if not all(isinstance(item, str) and item.strip() for item in words):
        raise FactWrong('facts.colours: each colour is a word: write ["blush", "gold"]')
    return tuple(dict.fromkeys(cast(list[str], words)))


def colour_shares_of(fact: Given, colours: tuple[str, ...], book: PriceBook) -> tuple[Decimal, ...]:
    """Return the share of the balloons in each colour, as given or by the rules for so many colours."""
    if not fact.known:
        return colour_shares(len(colours), book.prices.colour_shares) if colours else ()
    remedy = 'write each colour\'s share, such as {"blush": 0.6, "gold": 0.4}'
    if not isinstance(fact.value, Mapping) or set(fact.value) != set(colours):
        raise FactWrong(f"facts.colour_shares: {fact.value!r:.60} does not name just the colours: {remedy}")
    name = "facts.colour_shares"
    shares = tuple(number(fact.value[c], f"{name}.{c}", most=ONE, remedy=remedy) for c in colours)
    if sum(shares) != 1:
        raise FactWrong(f"{name}: the shares add up to {sum(shares)}, not 1: {remedy}")
    return shares


def finish_shares_of(
    facts: Mapping[str, Any],
    colours: tuple[str, ...],
    colour_parts: tuple[Decimal, ...],
    book: PriceBook,
    assumed: list[Assumed],
) -> tuple[Between, Between, str]:
    """Return the mirror and doubled shares, and the fact that would narrow them."""
    fact, prices = given(facts, "finish"), book.prices
    if fact.known:
        return *_finish_given(fact.value), "finish"
    if colours:
        shares = finish_shares(colours, colour_parts, prices.finish_words)
        shown = {name: float(share) for name, share in shares.items() if share and name != "plain"}
        assumed.append(Assumed("finish", shown, "from the colour words; the rest of the balloons is plain"))
        return exactly(shares["mirror"]), exactly(shares["doubled"]), "finish"
    usual = prices.unknown.finish
    why = f"no colours yet: {usual.doubled.low} to {usual.doubled.high} of the balloons may be a custom doubled shade"
    assumed.append(Assumed("finish", {}, why))
    return usual.mirror, usual.doubled, "colours"


def _finish_given(value: Any) -> tuple[Between, Between]:
    remedy = 'write shares of the balloons such as {"mirror": 0.3, "doubled": 0.5}'
    if not isinstance(value, Mapping) or value.keys() - {"mirror", "doubled", "plain"}:
        raise FactWrong(f"facts.finish: {value!r:.60} is not made of mirror, doubled and plain: {remedy}")
    shares = {
        name: number(value.get(name, 0), f"facts.finish.{name}", most=ONE, remedy=remedy)
        for name in ("mirror", "doubled", "plain")
    }
    if sum(shares.values()) > 1:
        raise FactWrong(f"facts.finish: the shares add up to {sum(shares.values())}, more than 1: {remedy}")
    return exactly(shares["mirror"]), exactly(shares["doubled"])
