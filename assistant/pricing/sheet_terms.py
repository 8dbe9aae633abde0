"""Reads the terms of a fact sheet: a discount, and the stock in hand."""

from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from assistant.pricing.book import PriceBook
from assistant.pricing.dates import WEEKDAYS
from assistant.pricing.given import FactWrong, Given, number, word
from assistant.pricing.job import Assumed, Stock

MOST_IN_STOCK = Decimal(1_000_000)


def discount_of(
    fact: Given, book: PriceBook, today: date, event_day: date | None, assumed: list[Assumed]
) -> str | None:
    """Return the name of the discount to take, None without one; an ended or unfitting one is named and not taken."""
    if not fact.known:
        return None
    if isinstance(fact.value, list | tuple):
        raise FactWrong("facts.discount: several at once: give one, discounts are not added up")
    name = word(fact.value, "facts.discount", book.prices.discounts)
    row = book.prices.discounts[name]
    why = None
    if today > row.until:
        why = f"'{name}' ended on {row.until}: not taken"
    elif row.weekdays is not None and (event_day is None or WEEKDAYS[event_day.weekday()] not in row.weekdays):
        why = f"'{name}' holds for events on {', '.join(row.weekdays)}: not taken"
    if why is None:
        return name
    assumed.append(Assumed("discount", None, why))
    return None


def stock_of(fact: Given, book: PriceBook) -> Stock | None:
    """Return whole balloons in hand by size and colour, None where the stock is not told.

    A size may be written as in the answer ("11 in") or bare ("11").
    """
    if not fact.known:
        return None
    remedy = 'write {"11": {"white": 40}}, sizes in inches, whole balloons'
    if not isinstance(fact.value, Mapping):
        raise FactWrong(f"facts.stock: {fact.value!r:.40} is not made of sizes: {remedy}")
    stock: dict[str, dict[str, int]] = {}
    for size, by_colour in fact.value.items():
        bare = word(str(size).removesuffix(" in"), "facts.stock", book.prices.balloons)
        stock[bare] = _colours(by_colour, f"facts.stock.{bare}", remedy)
    return stock


def _colours(by_colour: Any, name: str, remedy: str) -> dict[str, int]:
    if not isinstance(by_colour, Mapping):
        raise FactWrong(f"{name}: {by_colour!r:.40} is not made of colours: {remedy}")
    counts = {}
    for colour, value in by_colour.items():
        count = number(value, f"{name}.{colour}", most=MOST_IN_STOCK, remedy=remedy)
        if count != int(count):
            raise FactWrong(f"{name}.{colour}: {count} is no whole number: {remedy}")
        counts[str(colour)] = int(count)
    return counts
