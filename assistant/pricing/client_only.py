"""Colours bought for one client alone: where the stock in hand is known, they are charged by the bag.

A stock colour is charged by what is used of it. Of a colour that is not in stock the whole bags are paid: what the
recipe uses stands with the balloons, and the rest of the bags is added. Without the stock's fact a flat sum for the
unusable rest stands in pieces.yaml. Each size and colour needs its share of the balloons, so a larger job never
needs less of any, and the cheapest bags never cost less for more balloons: the price stays monotone.
"""

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

from assistant.pricing.book import PriceBook
from assistant.pricing.goods import Setting
from assistant.pricing.job import Job, Scenario
from assistant.pricing.labour import setting_of, waste_of
from assistant.pricing.packs import cheapest_bags

ZERO, ONE = Decimal(0), Decimal(1)


def bought_for(job: Job) -> tuple[tuple[str, Decimal], ...]:
    """Return the colours of the job that are not in stock, each with its share of the balloons."""
    if job.stock is None or not job.colours:
        return ()
    in_stock = {colour for by_colour in job.stock.values() for colour, count in by_colour.items() if count}
    shares = zip(job.colours, job.colour_shares, strict=True)
    return tuple((colour, share) for colour, share in shares if colour not in in_stock)


def dearest_rest(job: Job) -> int:
    """Return the piece on whose line the rest of the bags stands: the one whose flat rest is dearest."""
    return max(range(len(job.pieces)), key=lambda i: job.pieces[i].work.client_only_colour)


def rest_of_bags(job: Job, at: Scenario, book: PriceBook) -> Decimal | None:
    """Return what whole bags of the client's own colours cost beyond the balloons used; None where stock is unknown."""
    if job.stock is None or not job.colours:
        return None
    finishes = book.prices.finishes
    dearer = ONE + at.mirror * (finishes.mirror.latex - ONE) + at.doubled * (finishes.doubled.latex - ONE)
    rest = ZERO
    for size, used in _used(job, at, book):
        price = book.prices.balloons[size]
        for _, share in bought_for(job):
            wanted = used * share
            bags = cheapest_bags(int(wanted.to_integral_value(ROUND_CEILING)), price.offers())
            rest += max(ZERO, bags.cost - wanted * price.each)
    return rest * dearer


def _used(job: Job, at: Scenario, book: PriceBook) -> Iterator[tuple[str, Decimal]]:
    """Return the expected balloons of each size as the price counts them."""
    totals: dict[str, Decimal] = {}
    setting: Setting = setting_of(at, book)
    for piece, units, count in zip(job.pieces, at.units, at.counts, strict=True):
        build = piece.work.build(at.density)
        times = units * count / build.for_units * (ONE + waste_of(piece.work, setting)) * at.own
        for size, n in build.balloons.items():
            totals[size] = totals.get(size, ZERO) + n * times * book.taught(piece.kind).balloons
    yield from totals.items()
