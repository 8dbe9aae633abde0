"""Money, dates, ages and lengths as a person in the studio writes them."""

from collections.abc import Mapping
from datetime import date, datetime, time, timedelta
from decimal import ROUND_HALF_UP, Decimal
from typing import Any
from zoneinfo import ZoneInfo

from babel.dates import format_date, format_time
from babel.numbers import format_currency, get_currency_precision


class Formats:
    """Writes figures in the studio's locale, currency and zone."""

    def __init__(self, *, locale: str, currency: str, zone: ZoneInfo) -> None:
        self.locale, self.currency, self.zone = locale, currency, zone

    def money(self, minor: int | None) -> str:
        """Return minor units (cents) as money; cents are shown only when there are any."""
        if minor is None:
            return "-"
        digits = get_currency_precision(self.currency)
        amount = Decimal(minor).scaleb(-digits)
        whole = amount == amount.to_integral_value()
        pattern = "¤#,##0" if whole else None
        return format_currency(amount, self.currency, pattern, locale=self.locale, currency_digits=not whole)

    def whole_money(self, minor: int | None) -> str:
        """Return money without cents, half up, where cents would only be noise."""
        if minor is None:
            return "-"
        return self.money(self.minor(self.units(minor).quantize(Decimal(1), ROUND_HALF_UP)))

    def money_range(self, low: int | None, high: int | None) -> str:
        """Return "$475 to $575", or one amount when both are equal."""
        if low == high:
            return self.money(low)
        return f"{self.money(low)} to {self.money(high)}"

    def units(self, minor: int) -> Decimal:
        """Return minor units as units of the currency."""
        return Decimal(minor).scaleb(-get_currency_precision(self.currency))

    def minor(self, units: Decimal | int) -> int:
        """Return units of the currency as minor units."""
        return int(Decimal(units).scaleb(get_currency_precision(self.currency)))

    def day(self, value: date | str | None) -> str:
        """Return "Sat, Oct 16, 2027" in the studio's locale; accepts an ISO date."""
        found = as_date(value)
        return format_date(found, "EEE, MMM d, y", locale=self.locale) if found else ""

    def short_day(self, value: date) -> str:
        """Return "Sat, Oct 16": a day in a list whose year is said above it."""
        return str(format_date(value, "EEE, MMM d", locale=self.locale))

    def long_day(self, value: date | str | None) -> str:
        """Return "Saturday, October 16, 2027"."""
        found = as_date(value)
        return format_date(found, "full", locale=self.locale) if found else ""

    def month(self, value: date) -> str:
        """Return "October 2027"."""
        return str(format_date(value, "LLLL y", locale=self.locale))

    def clock(self, value: datetime | None) -> str:
        """Return the local time of day."""
        return str(format_time(value.astimezone(self.zone), "short", locale=self.locale)) if value else ""

    def hours_of_day(self, start: datetime, end: datetime) -> str:
        """Return "10:00 AM to 2:00 PM", or "the whole day" from midnight to midnight."""
        begins, ends = start.astimezone(self.zone), end.astimezone(self.zone)
        whole = begins.time() == ends.time() == time() and ends.date() - begins.date() == timedelta(days=1)
        return "the whole day" if whole else f"{self.clock(start)} to {self.clock(end)}"

    def hour(self, value: str | None) -> str:
        """Return a fact's "15:00" as the studio writes it."""
        try:
            moment = datetime.strptime(value or "", "%H:%M")
        except ValueError:
            return value or ""
        return str(format_time(moment, "short", locale=self.locale))

    def moment(self, value: datetime | None, today: date | None = None) -> str:
        """Return the local day and time; today's day is left out."""
        if value is None:
            return ""
        local = value.astimezone(self.zone)
        if local.date() == today:
            return f"today {self.clock(value)}"
        return f"{format_date(local, 'EEE MMM d', locale=self.locale)}, {self.clock(value)}"


def as_date(value: date | str | None) -> date | None:
    """Return a date from a date or an ISO text; None when it is neither."""
    if isinstance(value, date):
        return value
    try:
        return date.fromisoformat(value or "")
    except (TypeError, ValueError):
        return None


def age(since: datetime | None, now: datetime) -> str:
    """Return how long ago in one unit: "5 minutes", "3 hours", "2 days"."""
    if since is None:
        return ""
    passed = max(now - since, timedelta())
    for unit, seconds in (("day", 86400), ("hour", 3600), ("minute", 60)):
        count = int(passed.total_seconds() // seconds)
        if count:
            return f"{count} {unit}{'s' if count != 1 else ''}"
    return "less than a minute"


def days_off(day: date | str | None, today: date) -> str:
    """Return how far a day is: "today", "tomorrow", "in 12 days", "3 days ago"."""
    found = as_date(day)
    if found is None:
        return ""
    count = (found - today).days
    near = {0: "today", 1: "tomorrow", -1: "yesterday"}
    if count in near:
        return near[count]
    return f"in {count} days" if count > 0 else f"{-count} days ago"


def span_text(value: Any) -> str:
    """Return [8, 10] as "8-10", [8, 8] or 8 as "8"; nothing as ""."""
    if isinstance(value, (list, tuple)):
        ends = [plain_number(end) for end in value if end is not None]
        return ends[0] if len(set(ends)) == 1 else "-".join(ends)
    return plain_number(value) if value is not None else ""


def plain_number(value: Any) -> str:
    """Return a number without a needless ".0"."""
    try:
        number = Decimal(str(value))
    except ArithmeticError:
        return str(value)
    return f"{number.normalize():f}"


def decimal_hours(value: Any) -> str:
    """Return hours with one decimal."""
    try:
        return plain_number(round(Decimal(str(value)), 1))
    except ArithmeticError:
        return str(value)


def flat_rows(value: Any, above: str = "") -> list[tuple[str, str]]:
    """Return nested tables as (name, figure) rows, for figures whose depth is the price book's business."""
    if isinstance(value, Mapping):
        return [row for key, inner in value.items() for row in flat_rows(inner, f"{above} {key}".strip())]
    if isinstance(value, (list, tuple)):
        return [row for inner in value for row in flat_rows(inner, above)]
    return [(above, plain_number(value) if value is not None else "")]
