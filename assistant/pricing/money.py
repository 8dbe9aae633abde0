"""Price from cost, and the cents that are shown. Amounts inside are Decimal currency units; what leaves is cents."""

from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal

from assistant.pricing.rates import Rounding, Shares

ONE = Decimal(1)


def price_share(shares: Shares) -> Decimal:
    """Return the share of the price that is left for direct cost once overhead, card fee and profit are off."""
    return ONE - shares.overhead - shares.card_fee - shares.profit


def selling_price(direct: Decimal, shares: Shares) -> Decimal:
    """Return the price that leaves ``direct`` after overhead, card fee and profit, each a share of the price."""
    return (direct + shares.card_fee_fixed) / price_share(shares)


def floor_price(direct: Decimal, shares: Shares) -> Decimal:
    """Return the price that pays cost, wages (in ``direct``), overhead and card fee, and leaves no profit."""
    return (direct + shares.card_fee_fixed) / (price_share(shares) + shares.profit)


def gross_up(net: Decimal, rate: Decimal, fixed: Decimal) -> Decimal:
    """Return what to charge so that ``net`` remains after a card fee of ``rate`` of the charge plus ``fixed``."""
    return (net + fixed) / (ONE - rate)


def left_for_work(price: Decimal, paid_out: Decimal, shares: Shares) -> Decimal:
    """Return what the owner keeps of ``price`` for wage and profit: less purchases, travel, helper, fee, overhead."""
    return price - paid_out - price * (shares.card_fee + shares.overhead) - shares.card_fee_fixed


def cents(amount: Decimal) -> int:
    """Return ``amount`` in whole minor units, half up (the rule for invoices)."""
    return int((amount * 100).quantize(ONE, rounding=ROUND_HALF_UP))


def to_step(amount: Decimal, step: Decimal, rounding: str = ROUND_HALF_UP) -> Decimal:
    """Return the multiple of ``step`` next to ``amount`` in the direction of ``rounding``."""
    return (amount / step).quantize(ONE, rounding=rounding) * step


def friendly(exact: Sequence[Decimal], rules: Rounding, least: Decimal) -> tuple[int, int, int]:
    """Return (low, likely, high) in cents as a client sees them; low <= likely <= high, none below ``least``.

    The likely price goes to its step, the ends outwards; the likely one never leaves the range.
    """
    low, likely, high = exact
    step = next(row.step for row in rules.likely if row.below is None or likely < row.below)
    ends = to_step(low, rules.ends, ROUND_FLOOR), to_step(high, rules.ends, ROUND_CEILING)
    shown = [max(least, value) for value in (ends[0], to_step(likely, step), ends[1])]
    shown[1] = min(max(shown[1], shown[0]), shown[2])
    return cents(shown[0]), cents(shown[1]), cents(shown[2])
