"""What goes with a price: the smallest order, deposit and balance with their days, how long the quote stands."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from assistant.pricing.book import PriceBook
from assistant.pricing.job import Job
from assistant.pricing.money import cents, friendly
from assistant.pricing.rates import Prices


@dataclass(frozen=True)
class Terms:
    """Deposit and balance in cents, the days they are due, and the last day the quote stands."""

    deposit: int
    balance: int
    deposit_due: date
    balance_due: date | None
    valid_until: date

    def to_json(self) -> dict[str, Any]:
        """Return the answer's keys; days in ISO form."""
        due = None if self.balance_due is None else self.balance_due.isoformat()
        payment = {"deposit": self.deposit, "deposit_due": self.deposit_due.isoformat(),
                   "balance": self.balance, "balance_due": due}  # fmt: skip
        return {"payment": payment, "valid_until": self.valid_until.isoformat()}


def least_order(job: Job, prices: Prices) -> Decimal:
    """Return the smallest order: less for what the client picks up."""
    return prices.pick_up.minimum_order if job.pick_up else prices.minimum_order


def shown_of(prices: Sequence[Decimal], job: Job, book: PriceBook) -> tuple[int, int, int]:
    """Return (low, likely, high) in cents as a client sees them."""
    return friendly(prices, book.prices.rounding, least_order(job, book.prices))


def terms_of(price: int, job: Job, prices: Prices) -> Terms:
    """Return the terms of a ``price`` in cents; for short notice or a small order the whole sum is due at once."""
    rules, stands = prices.deposit, prices.validity
    large = price >= cents(stands.large_from)
    at_once = (job.days_off is not None and job.days_off < rules.all_under_days) or price < cents(rules.all_under_price)
    deposit = price if at_once else cents(Decimal(price) / 100 * rules.share)
    return Terms(
        deposit=deposit,
        balance=price - deposit,
        deposit_due=_not_after(job.today + timedelta(days=rules.due_days), job.event_day),
        balance_due=_balance_due(job, rules.balance_days_before) if price > deposit else None,
        valid_until=_not_after(job.today + timedelta(days=stands.large_days if large else stands.days), job.event_day),
    )


def _balance_due(job: Job, days_before: int) -> date | None:
    if job.event_day is None:
        return None
    return max(job.today, job.event_day - timedelta(days=days_before))


def _not_after(day: date, event_day: date | None) -> date:
    return day if event_day is None else min(day, event_day)
