"""Reads a whole conversation anew: from its messages and the designer's corrections to facts, verdict and price."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from assistant.flow.rooms import Rooms
from assistant.inquiry.merge import Edit, Sheet, merge
from assistant.pricing import DesignerDecides, price
from assistant.reading import Reading
from assistant.store.models import Correction, Message


@dataclass(frozen=True)
class Heard:
    """A conversation as read: its fact sheet, what the client said in each message, and in which language."""

    sheet: Sheet
    texts: tuple[str, ...]
    language: str | None


@dataclass(frozen=True)
class Priced:
    """What pricing answered: the quote as `assistant price` prints it, or why the designer has to decide."""

    quote: dict[str, Any] | None
    refusal: str | None


def local_day(rooms: Rooms, moment: datetime) -> date:
    """Return the studio's date at ``moment``."""
    return moment.astimezone(rooms.zone).date()


def hear(rooms: Rooms, messages: Sequence[Message], corrections: Sequence[Correction], today: date) -> Heard:
    """Read a conversation; each message is read on the day it came, later words correct earlier ones.

    The language is that of the latest text that shows one; short answers do not change it.
    """
    entries: list[Reading | Edit] = []
    texts: list[str] = []
    language = None
    for message in (m for m in messages if m.from_client):
        reading = rooms.reader.read(
            message.read_text,
            today=local_day(rooms, message.received_at),
            channel=message.channel,
            locale=rooms.locale,
        )
        entries.append(reading)
        texts.append(reading.spoken)
        language = reading.language or language
        entries += [Edit(c.facts) for c in corrections if c.after_message_id == message.id]
    return Heard(merge(entries, today=today), tuple(texts), language)


def priced(rooms: Rooms, facts: dict[str, Any], today: date) -> Priced:
    """Return the price of the facts, or the reason why there is none yet."""
    if not facts.get("pieces"):
        return Priced(None, None)
    try:
        return Priced(price(facts, rooms.price_book, today=today).to_json(), None)
    except DesignerDecides as reason:
        return Priced(None, str(reason))
    except ValueError as problem:  # a fact that no price can be made of; she sees it beside the fact
        return Priced(None, str(problem))
