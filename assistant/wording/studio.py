"""The studio as its rules describe it: name, zone, locale, money, quiet hours."""

import re
from dataclasses import dataclass
from datetime import time
from typing import ClassVar
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError


@dataclass(frozen=True)
class QuietHours:
    """Hours between which texts may leave on their own: from ``from`` on, before ``to``.

    47 CFR 64.1200(c)(1): no solicitation before 8 a.m. or after 9 p.m. at the called party's place.
    """

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
    assistant: dict[str, str]
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
    plain_sms: bool = True

    def __post_init__(self) -> None:
        _check_zone(self.zone)
        if not re.fullmatch(r"[A-Z]{3}", self.currency):
            raise ValueError(f"currency is '{self.currency}': give three capital letters such as USD")
        if set(self.quiet_hours) != {"from", "to"}:
            raise ValueError(
                "quiet_hours needs both 'from' and 'to': write quiet_hours: {from: \"08:00\", to: \"21:00\"}"
            )
        for language in self.languages:
            if not (self.assistant.get(language) and self.designer.get(language)):
                raise ValueError(
                    f"no words for '{language}': add it to assistant and to designer, or drop the language"
                )
        if not self.languages:
            raise ValueError("languages is empty: give at least one, such as en")
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
