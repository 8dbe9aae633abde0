"""The shared pricing engine: facts and a price book in; range, lines, hours, balloons and what is open, out.

    from assistant.loading.pricing import load_price_book
    from assistant.pricing import price
    price({"pieces": [{"kind": "garland", "length_ft": 14}]}, load_price_book(Rulebook()), today=day).to_json()

The model is a true cost build-up: supplies, hours, travel and overhead make the cost, and overhead, card fee and
profit are divided out of the price. This room knows no clock, no store and no web; "today" is an argument.

Besides what is read from messages, pricing knows these facts, each bare or as {"status", "value"}:

    density, finish, colour_shares {"blush": 0.6, "gold": 0.4}, miles, strike, crew, stand, accents, client_only_colour
    strike_time "22:00" (a late take-down), window_minutes or access_time with event_time (a second installer),
    long_carry true, pick_up true, discount (a name of prices.yaml), stock {"11": {"white": 40}} (balloons in hand)

and of a piece: count, length_ft, width_ft, height_ft (or _m), size ("medium"), shape, mount, share (of a hoop or a
ceiling), balloons (of a bouquet or a drop), at ("door", "table", "stairs" ...) with way, steps, landing_ft, sag_ft.
"""

from collections.abc import Mapping
from datetime import date
from typing import Any

from assistant.pricing.book import DesignerDecides, Learned, PriceBook
from assistant.pricing.engine import price_job
from assistant.pricing.given import FactWrong
from assistant.pricing.quote import Line, Quote

__all__ = ["DesignerDecides", "FactWrong", "Learned", "Line", "PriceBook", "Quote", "price"]


def price(facts: Mapping[str, Any], book: PriceBook, *, today: date) -> Quote:
    """Price a fact sheet; any fact may be absent, unclear or a range, lengths in feet, money out in cents.

    Raises FactWrong (a ValueError) naming a fact that cannot be and its remedy, and DesignerDecides (a ValueError)
    naming a piece that the rules hold no recipe for.
    """
    return Quote(price_job(facts, book, today), book, facts)
