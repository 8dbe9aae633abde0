"""Sales tax by kind of line, off until the studio's accountant fills the rates in: what is taxed differs by state."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from assistant.pricing.apportionment import apportion
from assistant.pricing.costing import Costing
from assistant.pricing.engine import Case
from assistant.pricing.money import cents
from assistant.pricing.rates import Tax

KINDS = ("goods", "rental", "labour", "delivery", "strike")


@dataclass(frozen=True)
class Taxes:
    """Tax in cents at low, likely and high: of each kind of line that is taxed, and in all."""

    by_kind: dict[str, tuple[int, ...]]

    @property
    def total(self) -> tuple[int, ...]:
        """Return the sum over the kinds."""
        return tuple(map(sum, zip(*self.by_kind.values(), strict=True)))


def tax_on(amount: int, rate: Decimal) -> int:
    """Return the tax on ``amount`` cents, half up to the cent (Streamlined Sales and Use Tax Agreement, sec. 324)."""
    return cents(Decimal(amount) / 100 * rate)


def taxes(cases: Sequence[Case], shown: Sequence[int], rates: Tax) -> Taxes | None:
    """Return the tax on prices shown in cents, each kind of line taxed for its share of the price; None while off."""
    on = {kind: rate for kind in KINDS if (rate := getattr(rates, kind))}
    if not on:
        return None
    shares = [_shares(case.costing, price) for case, price in zip(cases, shown, strict=True)]
    return Taxes({kind: tuple(tax_on(share[kind], rate) for share in shares) for kind, rate in on.items()})


def _shares(costing: Costing, price: int) -> dict[str, int]:
    """Share a price out over the kinds of line in proportion to their cost."""
    amounts = dict.fromkeys(KINDS, Decimal(0))
    for entry in costing.entries:
        amounts[entry.kind] += entry.amount
    parts = apportion(price, [max(0, int(amount * 10_000)) for amount in amounts.values()])
    return dict(zip(KINDS, parts, strict=True))
