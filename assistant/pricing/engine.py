"""The price of a job: the cheapest, the likeliest and the dearest case, and what each open fact is worth."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any

from assistant.pricing.book import PriceBook
from assistant.pricing.bounds import Open, corners, known, likely_scenario, open_facts
from assistant.pricing.costing import Costing, cost
from assistant.pricing.entries import DELIVERY, PLANNING, STRIKE
from assistant.pricing.job import Job, Scenario
from assistant.pricing.money import floor_price, price_share, selling_price
from assistant.pricing.sheet import read_job
from assistant.pricing.sums import Layout, Sums, add_up, lay_out

ONE = Decimal(1)
PEAK, RUSH = "peak", "rush"


@dataclass(frozen=True)
class Case:
    """One scenario priced: its sums, the price before date surcharges, those, and the price asked."""

    layout: Layout = field(repr=False)
    at: Scenario
    sums: Sums
    base: Decimal
    peak: Decimal
    rush: Decimal
    price: Decimal

    @property
    def raised(self) -> bool:
        """Tell whether the minimum order raised the price."""
        return self.price > self.base + self.peak + self.rush

    @cached_property
    def costing(self) -> Costing:
        """Return the same cost written out entry by entry, each with its rules and facts."""
        return cost(self.layout.job, self.at, self.layout.book)

    def lines(self) -> dict[str, Decimal]:
        """Return the price by line, before rounding and minimum; the lines add up to base, peak and rush."""
        shares, sums = self.layout.book.prices.shares, self.sums
        costs = {f"piece {i}": piece for i, piece in enumerate(sums.pieces)}
        costs |= {PLANNING: sums.planning + shares.card_fee_fixed, DELIVERY: sums.delivery, STRIKE: sums.strike}
        left = price_share(shares)
        return {line: amount / left for line, amount in costs.items()} | {PEAK: self.peak, RUSH: self.rush}


@dataclass(frozen=True)
class Narrowing:
    """How wide the range is now, and would be if one fact were known, in currency units."""

    fact: str
    width_now: Decimal
    width_if_known: Decimal


@dataclass(frozen=True)
class Priced:
    """A job's three cases, the same likely job with the studio's own figures at their ends, and the narrowing."""

    job: Job
    low: Case
    likely: Case
    high: Case
    quick: Case
    slow: Case
    floor: Decimal
    narrowing: tuple[Narrowing, ...]


def price_job(facts: Mapping[str, Any], book: PriceBook, today: date) -> Priced:
    """Price a fact sheet; see assistant.pricing.price."""
    job = read_job(facts, book, today)
    layout, base, facts_open = lay_out(job, book), likely_scenario(job), open_facts(job, book)
    spread = _own_uncertainty(job, book)
    under, over = base._replace(own=ONE - spread), base._replace(own=ONE + spread)
    low, high = _cheapest(layout, under, facts_open), _dearest(layout, over, facts_open)
    likely = price_case(layout, base)
    return Priced(
        job=job,
        low=low,
        likely=likely,
        high=high,
        quick=price_case(layout, under),
        slow=price_case(layout, over),
        floor=floor_price(likely.sums.direct, book.prices.shares),
        narrowing=_narrowing(layout, under, over, facts_open, high.price - low.price),
    )


def price_case(layout: Layout, at: Scenario) -> Case:
    """Price one scenario of a job."""
    prices, sums = layout.book.prices, add_up(layout, at)
    base = selling_price(sums.direct, prices.shares)
    peak, rush = at.date.of(base)
    return Case(layout, at, sums, base, peak, rush, max(base + peak + rush, prices.minimum_order))


def _cheapest(layout: Layout, base: Scenario, facts: Sequence[Open]) -> Case:
    return min((price_case(layout, at) for at in corners(base, facts, "lows")), key=lambda case: case.price)


def _dearest(layout: Layout, base: Scenario, facts: Sequence[Open]) -> Case:
    return max((price_case(layout, at) for at in corners(base, facts, "highs")), key=lambda case: case.price)


def _own_uncertainty(job: Job, book: PriceBook) -> Decimal:
    return book.prices.own_uncertainty(min(book.taught(piece.kind).jobs for piece in job.pieces))


def _narrowing(
    layout: Layout, under: Scenario, over: Scenario, facts: Sequence[Open], now: Decimal
) -> tuple[Narrowing, ...]:
    """Return each open fact with the range's width now and with that fact at its likeliest value, best first."""
    rows = []
    for fact in facts:
        rest = [other for other in facts if other is not fact]
        low, high = _cheapest(layout, known(under, fact), rest), _dearest(layout, known(over, fact), rest)
        rows.append(Narrowing(fact.fact, now, high.price - low.price))
    return tuple(sorted(rows, key=lambda row: row.width_if_known))
