"""The demo's script: bookings and conversations of an invented studio, read from the shipped demo folder."""

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from assistant.rulebook.source import read_source


@dataclass(frozen=True)
class Conversation:
    """One client's messages: texts from a number, or names of raw mail files."""

    title: str
    channel: str
    sender: str = ""
    messages: tuple[str, ...] = ()
    mails: tuple[Path, ...] = ()
    approve: bool = False
    twice: bool = False


@dataclass(frozen=True)
class Scenario:
    """The whole script. ``starts`` is the studio's local time at which the demo's clock begins."""

    starts: str
    designer_name: str
    designer_email: str
    studio_number: str
    bookings: tuple[dict[str, Any], ...] = ()
    conversations: tuple[Conversation, ...] = field(default=())


def load_scenario(folder: Path) -> Scenario:
    """Read ``scenario.yaml`` of the demo folder."""
    data = read_source(folder / "scenario.yaml").data
    return Scenario(
        starts=data["starts"],
        designer_name=data["designer"]["name"],
        designer_email=data["designer"]["email"],
        studio_number=data["studio_number"],
        bookings=tuple(data["bookings"]),
        conversations=tuple(_conversation(entry, folder) for entry in data["conversations"]),
    )


def _conversation(entry: dict[str, Any], folder: Path) -> Conversation:
    return Conversation(
        title=entry["title"],
        channel=entry["channel"],
        sender=entry.get("from", ""),
        messages=tuple(entry.get("messages", ())),
        mails=tuple(folder / "mail" / name for name in entry.get("mail", ())),
        approve=bool(entry.get("approve")),
        twice=bool(entry.get("twice")),
    )
