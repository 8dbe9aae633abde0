"""The cast of the door tests: a clock to turn, a runtime without rooms, and a provider that fails as told."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from cast import NOW

from assistant.config import Settings
from assistant.doors.transports import LookUp
from assistant.runtime import Runtime
from assistant.store import Store
from assistant.store.parcels import Parcel


class Clock:
    """Says what time it is; turned by hand."""

    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now

    def turn(self, **by: float) -> None:
        self.now += timedelta(**by)


def make_runtime(store: Store, clock: Clock, *, flow: Any = None, rooms: Any = None, **settings: Any) -> Runtime:
    return Runtime(
        settings=Settings(database_url="", **settings),
        store=store,
        rooms=rooms,
        flow=flow,
        now=clock,
        studio_id=1,
        folder=Path("unused"),
    )


@dataclass
class Provider:
    """Accepts messages like a provider; ``troubles`` are what the next calls do instead, None being an accept."""

    look_up: LookUp = LookUp.LATE
    troubles: list[BaseException | None] = field(default_factory=list)
    lost: bool = False  # whether a trouble comes before the accept instead of after it
    accepted: list[tuple[str, Parcel]] = field(default_factory=list)

    def send(self, parcel: Parcel) -> str:
        trouble = self.troubles.pop(0) if self.troubles else None
        if trouble is None or not self.lost:
            self.accepted.append((f"SM{len(self.accepted) + 1}", parcel))
        if trouble is not None:
            raise trouble
        return self.accepted[-1][0]

    def find(self, parcel: Parcel) -> list[str]:
        known = [] if self.look_up is LookUp.NONE else self.accepted
        return [sid for sid, sent in known if (sent.recipient, sent.text) == (parcel.recipient, parcel.text)]

    @property
    def ids(self) -> list[int]:
        return [parcel.id for _, parcel in self.accepted]
