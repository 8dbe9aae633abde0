"""The one composition place: settings, store, the rooms' rules and the flow, made once for a process."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from assistant.config import Settings
    from assistant.flow import Flow
    from assistant.flow.rooms import Rooms
    from assistant.store import Store


@dataclass
class Runtime:
    """What web pages, doors and the sender share. ``now`` gives the present as an aware datetime.

    ``rooms`` holds the rules of the pure rooms (reader, price book, calendar, conversation, wording, studio).
    """

    settings: "Settings"
    store: "Store"
    rooms: "Rooms"
    flow: "Flow"
    now: Callable[[], datetime]
    studio_id: int
    folder: Path
