"""The cast of the door tests: a clock to turn, a runtime without rooms, and a provider that fails as told."""

import contextlib
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from cast import NOW
from flask import Flask
from sqlalchemy.exc import IntegrityError

from assistant.config import Settings
from assistant.doors.inbound import Inbound
from assistant.doors.transports import LookUp
from assistant.doors.web import init_doors
from assistant.rulebook import Rulebook
from assistant.runtime import Runtime
from assistant.store import Store
from assistant.store.models import Message
from assistant.store.parcels import Parcel


class StoringFlow:
    """Stores each message once, as the unique key decides; ``trouble`` is raised instead."""

    def __init__(self, store: Store) -> None:
        self.store, self.got, self.trouble = store, [], None

    def receive(self, inbound: Inbound) -> None:
        if self.trouble:
            raise self.trouble
        with contextlib.suppress(IntegrityError):
            with self.store.write(alone=False) as session:
                session.add(message_of(inbound))
            self.got.append(inbound)


def message_of(inbound: Inbound) -> Message:
    values = {name: value for name, value in vars(inbound).items() if name != "sender_name"}
    return Message(studio_id=1, direction="in", **{**values, "thread_ids": list(inbound.thread_ids)})


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


ROOMS = SimpleNamespace(book=Rulebook())


def make_app(store: Store, **settings: Any) -> tuple[Flask, StoringFlow, Clock]:
    """The doors alone on a Flask app, before a flow that only stores."""
    flow, clock = StoringFlow(store), Clock()
    settings = {"twilio_auth_token": "12345", "public_url": "https://studio.example.com", **settings}
    app = Flask("doors")
    app.testing = True
    init_doors(app, make_runtime(store, clock, flow=flow, rooms=ROOMS, **settings))
    return app, flow, clock
