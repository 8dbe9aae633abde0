"""The studio as its rules describe it: name, zone, locale, money, quiet hours, deposit."""

import re
from dataclasses import dataclass
from datetime import date, time
from typing import ClassVar
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


@dataclass(frozen=True)
class Deposit:
    """The share asked for, and when the whole sum is due at once."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    percent: int
    all_within_days: int
    all_below: int

    def __post_init__(self) -> None:
        if not 0 <= self.percent <= 100:
            raise ValueError(f"percent is {self.percent}: give 0 to 100")

    def of(self, total: int, *, event: date | None, today: date) -> int:
        """Return the deposit for ``total``, both in minor units, rounded up to a whole currency unit."""
        soon = event is not None and (event - today).days < self.all_within_days
        if soon or total < self.all_below * 100:
            return total
        return min(total, -(-total * self.percent // 10_000) * 100)


@dataclass(frozen=True)
class QuietHours:
    """Hours between which texts may leave on their own: from ``from`` on, before ``to``.

    47 CFR 64.1200(c)(1): no solicitation before 8 a.m. or after 9 p.m. at the called party's place.
    """

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    open_from: time
    open_to: time

    def allows(self, local: time) -> bool:
        """Tell whether a text may leave at this local time of day."""
        return self.open_from <= local < self.open_to


@dataclass(frozen=True)
class Studio:
    """rules/studio.yaml."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    name: str
    assistant_name: str
    designer: dict[str, str]
    phone: str
    email: str
    website: str
    zone: str
    locale: str
    locales: dict[str, str]
    currency: str
    languages: list[str]
    quiet_hours: dict[str, time]
    quote_valid_days: int
    hold_hours: int
    deposit: Deposit

    def __post_init__(self) -> None:
        _check_zone(self.zone)
        if not re.fullmatch(r"[A-Z]{3}", self.currency):
            raise ValueError(f"currency is '{self.currency}': give three capital letters such as USD")
        if set(self.quiet_hours) != {"from", "to"}:
            raise ValueError(
                "quiet_hours needs both 'from' and 'to': write quiet_hours: {from: \"08:00\", to: \"21:00\"}"
            )
        if not 1 <= self.quote_valid_days <= 60:
            raise ValueError(f"quote_valid_days is {self.quote_valid_days}: give 1 to 60")

    @property
    def tz(self) -> ZoneInfo:
        """The studio's time zone."""
        return ZoneInfo(self.zone)

    @property
    def sending_hours(self) -> QuietHours:
        """The hours between which texts may leave on their own."""
        return QuietHours(self.quiet_hours["from"], self.quiet_hours["to"])

    def locale_of(self, language: str) -> str:
        """Return the locale in which money and dates are written for ``language``."""
        return self.locales.get(language, self.locale)


def _check_zone(name: str) -> None:
    try:
        ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise ValueError(f"zone '{name}' is not known: give an IANA zone such as America/New_York") from None
