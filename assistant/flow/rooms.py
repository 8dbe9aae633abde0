"""The pure rooms' rules, loaded together, so that one set of rules answers a whole message."""

from dataclasses import dataclass
from pathlib import Path
from zoneinfo import ZoneInfo

from assistant.availability import CalendarRules
from assistant.inquiry.rules import ConversationRules
from assistant.pricing import PriceBook
from assistant.reading import Reader
from assistant.rulebook import Rulebook
from assistant.wording import Wording
from assistant.wording.studio import Studio


@dataclass(frozen=True)
class Rooms:
    """What each pure room needs; replaced as a whole, so a bad reload keeps the old rules together."""

    book: Rulebook
    reader: Reader
    price_book: PriceBook
    calendar: CalendarRules
    conversation: ConversationRules
    wording: Wording
    studio: Studio
    version: str

    @property
    def zone(self) -> ZoneInfo:
        """The studio's time zone."""
        return self.studio.tz

    @property
    def locale(self) -> str:
        """The studio's locale: the order of day and month, and how money is written."""
        return self.studio.locale


def load_rooms(folder: Path | None) -> Rooms:
    """Load all rules; those in ``folder``/rules and the templates in ``folder``/templates win over the shipped ones.

    Raises RuleFilesWrong naming every fault of a file.
    """
    from assistant.loading.availability import load_calendar
    from assistant.loading.inquiry import load_conversation
    from assistant.loading.pricing import load_price_book
    from assistant.loading.reading import load_reader
    from assistant.loading.wording import load_wording

    own = [folder / "rules"] if folder and (folder / "rules").is_dir() else []
    templates = folder / "templates" if folder and (folder / "templates").is_dir() else None
    book = Rulebook(*own)
    wording = load_wording(book, templates)
    return Rooms(
        book=book,
        reader=load_reader(book),
        price_book=load_price_book(book),
        calendar=load_calendar(book),
        conversation=load_conversation(book),
        wording=wording,
        studio=wording.studio,
        version=book.version(*book.folder(".")),
    )
