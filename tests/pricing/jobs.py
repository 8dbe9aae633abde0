"""The reference job of the pricing tests, and short ways to price it. All data invented."""

from datetime import date
from functools import cache
from typing import Any

from assistant.loading.pricing import load_price_book
from assistant.pricing import PriceBook, Quote, price
from assistant.rulebook import Rulebook

TODAY = date(2027, 3, 1)
ORDINARY_DAY = "2027-10-16"


@cache
def book() -> PriceBook:
    """Return the shipped price book."""
    return load_price_book(Rulebook())


def garland(feet: Any = 14, **more: Any) -> dict[str, Any]:
    """Return the facts of a fully known garland job: standard, plain, indoors, 20 miles away, one installer."""
    facts = {
        "pieces": [{"kind": "garland", "count": 1, "length_ft": feet}],
        "density": "standard",
        "finish": {},
        "miles": 20,
        "strike": False,
        "crew": 1,
        "stand": True,
        "accents": True,
        "client_only_colour": True,
        "setting": "indoor",
        "event_date": {"status": "stated", "value": ORDINARY_DAY},
        "colours": ["blush", "gold", "white"],
    }
    facts.update(more)
    return {name: value for name, value in facts.items() if value is not None}


def priced(facts: dict[str, Any], rules: PriceBook | None = None, today: date = TODAY) -> Quote:
    """Price a fact sheet with the shipped book."""
    return price(facts, rules or book(), today=today)


def dollars(facts: dict[str, Any], rules: PriceBook | None = None) -> float:
    """Return the exact likely price in dollars."""
    return priced(facts, rules).exact[1] / 100
