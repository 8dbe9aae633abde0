"""Sharing whole things: Hamilton's largest-remainder method, ties settled in list order."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

Weight = Decimal | Fraction | int


def apportion(total: int, weights: Sequence[Weight]) -> list[int]:
    """Return whole shares of ``total`` in proportion to ``weights``; they always add up to ``total``.

    Each share is the floor or the ceiling of its exact quota (Hamilton 1791). With no weight at all the first takes
    everything. Raises ValueError for a negative total or weight.
    """
    if total < 0 or any(weight < 0 for weight in weights):
        raise ValueError("shares are of a total and of weights of at least 0: give no negative number")
    if not weights:
        return []
    exact = [Fraction(weight) for weight in weights]
    whole = sum(exact)
    if whole == 0:
        return [total] + [0] * (len(weights) - 1)
    quotas = [total * weight / whole for weight in exact]
    shares = [int(quota) for quota in quotas]
    order = sorted(range(len(quotas)), key=lambda i: (shares[i] - quotas[i], i))
    for i in order[: total - sum(shares)]:
        shares[i] += 1
    return shares


def apportion_below(total: int, weights: Sequence[Weight], caps: Sequence[int]) -> list[int]:
    """Share ``total`` as apportion does, but give nobody more than its cap; the rest goes where there is room.

    Raises ValueError when the caps together hold less than ``total``.
    """
    if sum(caps) < total:
        raise ValueError("the caps hold less than the total: raise a cap")
    shares = apportion(total, weights)
    excess = sum(max(0, share - cap) for share, cap in zip(shares, caps, strict=True))
    shares = [min(share, cap) for share, cap in zip(shares, caps, strict=True)]
    room = [cap - share for share, cap in zip(shares, caps, strict=True)]
    return [share + more for share, more in zip(shares, apportion(excess, room), strict=True)]
