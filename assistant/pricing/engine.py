"""The price of a job: the cheapest, the likeliest and the dearest case, and what each open fact is worth."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import Any, NamedTuple

from assistant.pricing.book import PriceBook
from assistant.pricing.bounds import Open, corners, likely_scenario, open_facts
from assistant.pricing.costing import Costing, cost
from assistant.pricing.entries import DELIVERY, PLANNING, STRIKE
from assistant.pricing.job import Job, Scenario
from assistant.pricing.money import floor_price, selling_price
from assistant.pricing.shapes import SHAPE, readings_of_shapes, shapes_assumed
from assistant.pricing.sheet import read_job
from assistant.pricing.sums import Layout, Sums, add_up, lay_out
from assistant.pricing.terms import least_order

ZERO, ONE = Decimal(0), Decimal(1)
PEAK, RUSH = "peak", "rush"


@dataclass(frozen=True)
class Case:
    """One scenario priced: its sums, the discount, the price before date surcharges, those, and the price asked."""

    layout: Layout = field(repr=False)
    at: Scenario
    sums: Sums
    discount: Decimal
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
        """Return the price by line, before rounding and minimum; the lines add up to base, peak and rush.

        A discount lowers every line by the same share.
        """
        shares, sums = self.layout.book.prices.shares, self.sums
        costs = {f"piece {i}": piece for i, piece in enumerate(sums.pieces)}
        costs |= {PLANNING: sums.planning + shares.card_fee_fixed, DELIVERY: sums.delivery, STRIKE: sums.strike}
        left = (sums.direct + shares.card_fee_fixed) / self.base
        return {line: amount / left for line, amount in costs.items()} | {PEAK: self.peak, RUSH: self.rush}


@dataclass(frozen=True)
class Narrowing:
    """How wide the range is now, and would be if one fact were known, in currency units."""

    fact: str
    width_now: Decimal
    width_if_known: Decimal


@dataclass(frozen=True)
class Priced:
    """A job's three cases, the floor of the likely one, and the narrowing.

    ``others`` are the further readings of the job where a shape is not said; the range covers them.
    """

    job: Job
    others: tuple[Job, ...]
    low: Case
    likely: Case
    high: Case
    floor: Decimal
    narrowing: tuple[Narrowing, ...]
    view: "View" = field(repr=False)

    @cached_property
    def quick(self) -> Case:
        """Return the likely job when the studio's own figures run under."""
        return price_case(self.view.layout, self.view.under)

    @cached_property
    def slow(self) -> Case:
        """Return the likely job when the studio's own figures run over."""
        return price_case(self.view.layout, self.view.over)


def price_job(facts: Mapping[str, Any], book: PriceBook, today: date) -> Priced:
    """Price a fact sheet; see assistant.pricing.price."""
    jobs = [read_job(reading, book, today) for reading in readings_of_shapes(facts, book)]
    jobs[0] = replace(jobs[0], assumed=(*shapes_assumed(facts, book), *jobs[0].assumed)) if len(jobs) > 1 else jobs[0]
    views = [_view(job, book) for job in jobs]
    low, high = _cheapest(views), _dearest(views)
    view = views[0]
    likely = price_case(view.layout, view.base)
    return Priced(
        job=view.layout.job,
        others=tuple(other.layout.job for other in views[1:]),
        low=low,
        likely=likely,
        high=high,
        floor=floor_price(likely.sums.direct, book.prices.shares),
        narrowing=_narrowing(views, high.price - low.price),
        view=view,
    )


class View(NamedTuple):
    """One reading of a job: its figures, its likely scenario, the same under and over the estimate, what is open."""

    layout: Layout
    base: Scenario
    under: Scenario
    over: Scenario
    open: tuple[Open, ...]

    def knowing(self, name: str) -> "View":
        """Return the view with one open fact at its likeliest value."""
        values = next((fact.likely for fact in self.open if fact.fact == name), None)
        if values is None:
            return self
        rest = tuple(fact for fact in self.open if fact.fact != name)
        return self._replace(under=self.under._replace(**values), over=self.over._replace(**values), open=rest)


def _view(job: Job, book: PriceBook) -> View:
    base, spread = likely_scenario(job), _own_uncertainty(job, book)
    under, over = base._replace(own=ONE - spread), base._replace(own=ONE + spread)
    return View(lay_out(job, book), base, under, over, tuple(open_facts(job, book)))


def price_case(layout: Layout, at: Scenario) -> Case:
    """Price one scenario of a job."""
    prices, sums = layout.book.prices, add_up(layout, at)
    base, discount = selling_price(sums.direct, prices.shares), ZERO
    if layout.job.discount is not None:
        room = base - floor_price(sums.direct, prices.shares)
        discount = min(base * prices.discounts[layout.job.discount].share, room)
        base -= discount
    peak, rush = at.date.of(base)
    least = least_order(layout.job, prices)
    return Case(layout, at, sums, discount, base, peak, rush, max(base + peak + rush, least))


def _cheapest(views: Sequence[View]) -> Case:
    cases = (price_case(view.layout, at) for view in views for at in corners(view.under, view.open, "lows"))
    return min(cases, key=lambda case: case.price)


def _dearest(views: Sequence[View]) -> Case:
    cases = (price_case(view.layout, at) for view in views for at in corners(view.over, view.open, "highs"))
    return max(cases, key=lambda case: case.price)


def _own_uncertainty(job: Job, book: PriceBook) -> Decimal:
    return book.prices.own_uncertainty(min(book.taught(piece.kind).jobs for piece in job.pieces))


def _narrowing(views: Sequence[View], now: Decimal) -> tuple[Narrowing, ...]:
    """Return each open fact with the range's width now and with that fact at its likeliest value, best first."""
    rows = []
    for name in dict.fromkeys(fact.fact for view in views for fact in view.open):
        knowing = [view.knowing(name) for view in views]
        rows.append(Narrowing(name, now, _dearest(knowing).price - _cheapest(knowing).price))
    if len(views) > 1:
        rows.append(Narrowing(SHAPE, now, _dearest(views[:1]).price - _cheapest(views[:1]).price))
    return tuple(sorted(rows, key=lambda row: row.width_if_known))
