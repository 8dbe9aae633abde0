"""Money, days, hours and lists as a locale writes them (Unicode CLDR, by the babel package)."""

from collections.abc import Sequence
from datetime import date, time
from decimal import Decimal


def money(minor: int, currency: str, locale: str) -> str:
    """Return an amount in minor units as the locale writes it; whole amounts without the part after the point."""
    from babel.numbers import format_currency, get_currency_precision

    places = get_currency_precision(currency)
    amount = Decimal(minor).scaleb(-places)
    whole = amount == amount.to_integral_value()
    return format_currency(amount, currency, "¤#,##0" if whole else None, locale=locale, currency_digits=not whole)


def day(value: date, pattern: str, locale: str) -> str:
    """Return a day by a pattern of the Unicode locale standard, such as EEEE, MMMM d."""
    from babel.dates import format_date

    return format_date(value, pattern, locale=locale)


def clock(value: time, pattern: str, locale: str) -> str:
    """Return a time of day by a pattern such as h:mm a."""
    from babel.dates import format_time

    return format_time(value, pattern, locale=locale).replace("\u202f", " ").replace("\xa0", " ")


def listed(items: Sequence[str], conjunction: str) -> str:
    """Return "a, b and c"."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {conjunction} {items[-1]}"


def number(value: float | Decimal) -> str:
    """Return a length without needless zeros."""
    return f"{float(value):.1f}".removesuffix(".0")
