"""Sharing whole things: Hamilton's largest-remainder method, ties settled in list order."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from math import lcm

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
    parts = _whole_numbers(weights)
    whole = sum(parts)
    if whole == 0:
        return [total] + [0] * (len(weights) - 1)
    shares, rests = (list(row) for row in zip(*(divmod(total * part, whole) for part in parts), strict=True))
    order = sorted(range(len(parts)), key=lambda i: (-rests[i], i))
    for i in order[: total - sum(shares)]:
        shares[i] += 1
    return shares


def _whole_numbers(weights: Sequence[Weight]) -> list[int]:
    """Return whole numbers in exactly the ratio of ``weights``."""
    ratios = [weight.as_integer_ratio() for weight in weights]
    common = lcm(*(below for _, below in ratios))
    return [above * (common // below) for above, below in ratios]


def apportion_below(total: int, weights: Sequence[Weight], caps: Sequence[int]) -> list[int]:
    """Share ``total`` as apportion does, but give nobody more than its cap.

    What is over a cap goes to the others by their weights; without weight one gets something only when all with
    weight are full. Raises ValueError when the caps together hold less than ``total``.
    """
    if sum(caps) < total:
        raise ValueError("the caps hold less than the total: raise a cap")
    shares, left = [0] * len(caps), total
    while left:
        room = [cap - share for cap, share in zip(caps, shares, strict=True)]
        open_weights = [weight if space else 0 for weight, space in zip(weights, room, strict=True)]
        more = apportion(left, open_weights if any(open_weights) else room)
        taken = [min(part, space) for part, space in zip(more, room, strict=True)]
        shares = [share + part for share, part in zip(shares, taken, strict=True)]
        left -= sum(taken)
    return shares
