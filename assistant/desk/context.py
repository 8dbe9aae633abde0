"""What every page of the desk shares, made once for the app."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from flask import current_app

from assistant.desk.cookies import CookieJar
from assistant.desk.formats import Formats
from assistant.desk.passwords import Passwords
from assistant.desk.words import Words

if TYPE_CHECKING:
    from assistant.flow import Flow
    from assistant.runtime import Runtime
    from assistant.store import Store


@dataclass(frozen=True)
class Desk:
    """The runtime with the desk's own tools; ``key`` seals what the browser keeps for us."""

    runtime: "Runtime"
    words: Words
    formats: Formats
    cookies: CookieJar
    passwords: Passwords
    key: bytes

    @property
    def store(self) -> "Store":
        """The studio's store."""
        return self.runtime.store

    @property
    def flow(self) -> "Flow":
        """The way in which decisions are carried out."""
        return self.runtime.flow

    @property
    def zone(self) -> ZoneInfo:
        """The studio's time zone."""
        return self.formats.zone

    def now(self) -> datetime:
        """Return the present, aware."""
        return self.runtime.now()

    def today(self) -> date:
        """Return the studio's local date."""
        return self.runtime.now().astimezone(self.zone).date()


def the_desk() -> Desk:
    """Return the desk of the app that answers now."""
    found: Desk = current_app.extensions["desk"]
    return found
