"""The price of a job: the cheapest, the likeliest and the dearest case, and what each open fact is worth."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Any

from assistant.pricing.book import PriceBook
from assistant.pricing.bounds import Open, corners, known, likely_scenario, open_facts
from assistant.pricing.costing import Costing, cost
from assistant.pricing.entries import PLANNING
from assistant.pricing.job import Job, Scenario
from assistant.pricing.money import floor_price, price_share, selling_price
from assistant.pricing.sheet import read_job

ONE = Decimal(1)
PEAK, RUSH = "peak", "rush"


@dataclass(frozen=True)
class Case:
    """One scenario priced: its costing, the price before date surcharges, those, and the price asked."""

    at: Scenario
    costing: Costing
    base: Decimal
    peak: Decimal
    rush: Decimal
    price: Decimal

    @property
    def raised(self) -> bool:
        """Tell whether the minimum order raised the price."""
        return self.price > self.base + self.peak + self.rush

    def lines(self, book: PriceBook) -> dict[str, Decimal]:
        """Return the price by line, before rounding and minimum; the lines add up to base, peak and rush."""
        left = price_share(book.prices.shares)
        lines: dict[str, Decimal] = {PLANNING: book.prices.shares.card_fee_fixed / left}
        for entry in self.costing.entries:
            lines[entry.line] = lines.get(entry.line, Decimal(0)) + entry.amount / left
        return {**lines, PEAK: self.peak, RUSH: self.rush}


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
    base = likely_scenario(job)
    spread = _own_uncertainty(job, book)
    facts_open = open_facts(job, book)
    low = _cheapest(job, replace(base, own=ONE - spread), facts_open, book)
    high = _dearest(job, replace(base, own=ONE + spread), facts_open, book)
    likely = price_case(job, base, book)
    return Priced(
        job=job,
        low=low,
        likely=likely,
        high=high,
        quick=price_case(job, replace(base, own=ONE - spread), book),
        slow=price_case(job, replace(base, own=ONE + spread), book),
        floor=floor_price(likely.costing.direct, book.prices.shares),
        narrowing=_narrowing(job, base, spread, facts_open, book, high.price - low.price),
    )


def price_case(job: Job, at: Scenario, book: PriceBook) -> Case:
    """Price one scenario of a job."""
    costing = cost(job, at, book)
    base = selling_price(costing.direct, book.prices.shares)
    peak, rush = at.date.of(base)
    return Case(at, costing, base, peak, rush, max(base + peak + rush, book.prices.minimum_order))


def _cheapest(job: Job, base: Scenario, facts: Sequence[Open], book: PriceBook) -> Case:
    return min((price_case(job, at, book) for at in corners(base, facts, "lows")), key=lambda case: case.price)


def _dearest(job: Job, base: Scenario, facts: Sequence[Open], book: PriceBook) -> Case:
    return max((price_case(job, at, book) for at in corners(base, facts, "highs")), key=lambda case: case.price)


def _own_uncertainty(job: Job, book: PriceBook) -> Decimal:
    return book.prices.own_uncertainty(min(book.taught(piece.kind).jobs for piece in job.pieces))


def _narrowing(
    job: Job, base: Scenario, spread: Decimal, facts: Sequence[Open], book: PriceBook, now: Decimal
) -> tuple[Narrowing, ...]:
    """Return each open fact with the range's width now and with that fact at its likeliest value, best first."""
    rows = []
    for fact in facts:
        rest = [other for other in facts if other is not fact]
        low = _cheapest(job, replace(known(base, fact), own=ONE - spread), rest, book)
        high = _dearest(job, replace(known(base, fact), own=ONE + spread), rest, book)
        rows.append(Narrowing(fact.fact, now, high.price - low.price))
    return tuple(sorted(rows, key=lambda row: row.width_if_known))
