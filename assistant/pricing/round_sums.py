"""Round sums that the studio's policy adds to a price: a late take-down, a delivery zone.

Price is cost over the share left of it, so a round sum in the price enters the cost as what is left of that sum.
"""

from decimal import Decimal

from assistant.pricing.book import PriceBook
from assistant.pricing.job import Job, Scenario
from assistant.pricing.money import price_share

ZERO, TWO = Decimal(0), Decimal(2)


def late_extra(job: Job, book: PriceBook) -> Decimal:
    """Return the cost that makes a late take-down's round sum in the price."""
    row, prices = job.late_strike, book.prices
    return ZERO if row is None else prices.late_strike[row].adds * price_share(prices.shares)


def zone_extra(at: Scenario, book: PriceBook) -> Decimal:
    """Return what a zone's fee changes for one visit against its real miles and hours; below zero for a cheap zone.

    Beyond the last zone a visit costs its miles and hours, and never less than the last zone.
    """
    travel, shares = book.prices.travel, book.prices.shares
    if not travel.zones:
        return ZERO
    real = TWO * (travel.hours(at.miles) * book.prices.wages.owner_per_hour + at.miles * travel.per_mile)
    row = travel.zone(at.miles)
    fee = travel.zones[-1 if row is None else row].fee * price_share(shares) - real
    return max(fee, ZERO) if row is None else fee
