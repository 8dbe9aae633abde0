"""Facts as they come from outside: stated, inferred, unclear, impossible, bare or absent; checked before use."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from assistant.pricing.unknowns import Between, exactly

METRES_IN_A_FOOT = Decimal("0.3048")
SMALLEST_LENGTH = Decimal("0.000001")  # so that 3.6576 m is 12 ft, not a hair over it


class FactWrong(ValueError):
    """A fact that cannot be priced; the text names the fact, what is wrong and the remedy."""


@dataclass(frozen=True)
class Given:
    """One fact as it came: its value or None, the options left, the stretch of days left, and its status."""

    value: Any = None
    options: tuple[Any, ...] = ()
    span: tuple[Any, ...] = ()
    status: str = "absent"

    @property
    def known(self) -> bool:
        """Tell whether a value can be priced."""
        return self.value is not None


def given(facts: Mapping[str, Any], name: str) -> Given:
    """Return fact ``name``, whether it came bare or with a status; a null is an absent fact."""
    raw = facts.get(name)
    if raw is None:
        return Given()
    if not isinstance(raw, Mapping) or not raw.keys() & {"status", "value", "options", "span"}:
        return Given(raw, status="stated")
    status = raw.get("status", "stated")
    options, span = (_listed(raw.get(key), f"facts.{name}.{key}") for key in ("options", "span"))
    value = raw.get("value") if status in ("stated", "inferred") else None
    return Given(value, options, span, str(status))


def _listed(value: Any, name: str) -> tuple[Any, ...]:
    if value is None:
        return ()
    if not isinstance(value, Sequence) or isinstance(value, str):
        raise FactWrong(f"{name} is no list: write [...] or leave it out")
    return tuple(value)


def number(value: Any, name: str, *, most: Decimal, remedy: str, above_zero: bool = False) -> Decimal:
    """Return a number as Decimal; text, booleans, NaN, negative and over-large ones are refused."""
    if isinstance(value, bool) or not isinstance(value, int | float | Decimal):
        raise FactWrong(f"{name}: {value!r:.40} is no number: {remedy}")
    exact = Decimal(str(value))
    if not exact.is_finite():
        raise FactWrong(f"{name}: {value} is no number: {remedy}")
    if exact < 0 or (above_zero and exact == 0):
        raise FactWrong(f"{name}: {value!r:.40} is {'below' if exact < 0 else 'not above'} 0: {remedy}")
    if exact > most:
        raise FactWrong(f"{name}: {value!r:.40} is more than {most}: {remedy}")
    return exact


def between(value: Any, name: str, *, most: Decimal, remedy: str, above_zero: bool = False) -> Between:
    """Return a number or [low, high] with the middle as likely value."""
    if not isinstance(value, list | tuple):
        return exactly(number(value, name, most=most, remedy=remedy, above_zero=above_zero))
    if len(value) != 2:
        raise FactWrong(f"{name}: {value!r:.40} has not two ends: {remedy}")
    low, high = (number(end, name, most=most, remedy=remedy, above_zero=above_zero) for end in value)
    if low > high:
        raise FactWrong(f"{name}: {low} is more than {high}: write [low, high]")
    return Between(low, (low + high) / 2, high)


def length(row: Mapping[str, Any], name: str, measure: str, most: Decimal) -> Between | None:
    """Return a length in feet, given in feet (``length_ft``) or metres (``length_m``), or None where neither is.

    A foot is 0.3048 m exactly (international yard and pound agreement, 1959).
    """
    in_feet, in_metres = f"{measure}_ft", f"{measure}_m"
    feet, metres = _bare(row.get(in_feet)), _bare(row.get(in_metres))
    if feet is not None and metres is not None:
        raise FactWrong(f"{name}: {in_feet} and {in_metres} are both given: give one of them")
    if metres is not None:
        return _from_metres(metres, f"{name}.{in_metres}", most * METRES_IN_A_FOOT, in_feet)
    if feet is None:
        return None
    remedy = f"give feet as a number, above 0 and at most {most}, or [least, most]; metres go in {in_metres}"
    return between(feet, f"{name}.{in_feet}", most=most, remedy=remedy, above_zero=True)


def _from_metres(value: Any, name: str, most: Decimal, in_feet: str) -> Between:
    remedy = (
        f"give metres as a number, above 0 and at most {most.normalize():f}, or [least, most]; feet go in {in_feet}"
    )
    metres = between(value, name, most=most, remedy=remedy, above_zero=True)
    ends = (metres.low, metres.likely, metres.high)
    return Between(*((end / METRES_IN_A_FOOT).quantize(SMALLEST_LENGTH) for end in ends))


def _bare(value: Any) -> Any:
    """Return a measure that may come with its place in the message."""
    return value.get("value") if isinstance(value, Mapping) else value


def yes_or_no(value: Any, name: str) -> bool:
    """Return true or false as such."""
    if not isinstance(value, bool):
        raise FactWrong(f"{name}: {value!r:.40} is neither true nor false: write true or false, or leave it out")
    return value


def text(value: Any, name: str) -> str | None:
    """Return a word as it came, None when it is absent."""
    if value is not None and not isinstance(value, str):
        raise FactWrong(f"{name}: {value!r:.40} is no word: write one, or leave it out")
    return value


def word(value: Any, name: str, known: Iterable[str]) -> str:
    """Return a word that is one of ``known``."""
    known = list(known)
    if not isinstance(value, str) or value not in known:
        raise FactWrong(f"{name}: {value!r:.40} is not known: write one of {', '.join(known)}")
    return value


def day(value: Any, name: str) -> date:
    """Return an ISO day as date."""
    try:
        return date.fromisoformat(value)
    except (TypeError, ValueError):
        raise FactWrong(f"{name}: {value!r:.40} is no day: write it like 2027-10-16") from None


def days_of(fact: Given, name: str) -> list[date]:
    """Return the days that an event may be on: one when known, the options or the span, or none."""
    if fact.known:
        return [day(fact.value, name)]
    if fact.options:
        return [day(option, name) for option in fact.options]
    if len(fact.span) != 2:
        return []
    first, last = (day(end, name) for end in fact.span)
    if not 0 <= (last - first).days <= 1100:
        raise FactWrong(f"{name}.span: {first} to {last} is no stretch of up to three years: write first and last day")
    return [first + timedelta(days=n) for n in range((last - first).days + 1)]
