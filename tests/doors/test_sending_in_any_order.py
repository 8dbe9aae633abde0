"""Whatever happens in whatever order: never twice, never unapproved, never after a stop, never lost without a word."""

import contextlib
import shutil
import tempfile
from collections import Counter, defaultdict
from pathlib import Path

from cast import add_client, add_designer, add_outgoing
from doors_cast import Clock, Provider, make_runtime
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from assistant.doors.sender import Sender
from assistant.doors.transports import LookUp, Refused, TryLater, Unsure
from assistant.store import Store
from assistant.store.models import Client, Outgoing, Studio, Task


class Killed(BaseException):
    """Stands for kill -9 at that line."""


TROUBLES = {
    "accept": None,
    "busy": TryLater("busy"),
    "refused": Refused("bad number"),
    "cut": Unsure("cut"),
    "killed": Killed(),
}
WRITE = st.tuples(st.just("write"), st.integers(1, 2), st.sampled_from(["plain", "priced", "unapproved", "opt_out"]))
SEND = st.tuples(st.just("send"), st.sampled_from(list(TROUBLES)), st.booleans())
TURN = st.tuples(st.just("turn"), st.sampled_from([1, 20, 61, 301]))
STOP = st.tuples(st.just("stop"), st.integers(1, 2))


class World:
    """A store, a provider and a clock, and what went out after whose stop."""

    def __init__(self, store: Store, look_up: LookUp) -> None:
        self.store, self.clock, self.provider = store, Clock(), Provider(look_up)
        self.stopped: dict[int, int] = {}
        self.sender = Sender(make_runtime(store, self.clock), {"sms": self.provider}, chance=lambda: 0.0)

    def write(self, client: int, kind: str) -> None:
        purpose = "opt_out" if kind == "opt_out" else "draft"
        needs_yes = kind in ("priced", "unapproved")
        by = 1 if kind == "priced" else None
        with self.store.read() as session:
            number = (session.scalar(select(func.max(Outgoing.id))) or 0) + 1
        values = {"needs_yes": needs_yes, "approved_by": by, "purpose": purpose, "text": f"text {number}"}
        add_outgoing(self.store, client, due_at=self.clock.now, **values)

    def send(self, trouble: str, lost: bool) -> None:
        self.provider.troubles, self.provider.lost = [TROUBLES[trouble]], lost or trouble in ("busy", "refused")
        with contextlib.suppress(Killed):
            self.sender.run_once(1)
        self.provider.troubles = []

    def turn(self, seconds: int) -> None:
        self.clock.turn(seconds=seconds)

    def stop(self, client: int) -> None:
        with self.store.write() as session:
            session.get_one(Client, client).stopped_at = self.clock.now
        self.stopped.setdefault(client, len(self.provider.accepted))

    def settle(self) -> None:
        idle = 0
        while idle < 2:
            self.clock.turn(hours=1)
            idle = 0 if self.sender.run_once() else idle + 1


@settings(max_examples=25, deadline=None)
@given(
    look_up=st.sampled_from(list(LookUp)),
    steps=st.lists(st.one_of(WRITE, SEND, SEND, TURN, STOP), min_size=5, max_size=25),
)
def test_whatever_happens(sqlite_model: Path, look_up: LookUp, steps: list[tuple]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(sqlite_model, f"{folder}/store.sqlite")
        store = Store(f"sqlite:///{folder}/store.sqlite")
        with store.write() as session:
            session.add(Studio(name="Invented", created_at=Clock().now))
        add_designer(store)
        add_client(store)
        add_client(store)
        world = World(store, look_up)
        for name, *details in steps:
            getattr(world, name)(*details)
        world.settle()
        _check(world)
        store.close()


def _check(world: World) -> None:
    accepted = [parcel for _, parcel in world.provider.accepted]
    assert all(count == 1 for count in Counter(parcel.id for parcel in accepted).values()), "sent twice"
    assert not [parcel for parcel in accepted if parcel.needs_yes and parcel.automatic], "sent without a yes"
    for client, before in world.stopped.items():
        late = [parcel for parcel in accepted[before:] if parcel.client_id == client]
        assert {parcel.purpose for parcel in late} <= {"opt_out"}, "sent after a stop"
    with world.store.read() as session:
        rows = session.scalars(select(Outgoing)).all()
        told = session.scalar(select(func.count(Task.id))) or 0
    states = {row.id: row.state for row in rows}
    assert set(states.values()) <= {"sent", "failed", "stopped", "unsure"}, "left in the line"
    assert all(row.held_at for row in rows if row.state == "unsure"), "nobody was asked"
    assert told == sum(state in ("failed", "unsure") for state in states.values()), "lost without a word"
    assert {parcel.id for parcel in accepted} <= {one for one, state in states.items() if state in ("sent", "unsure")}
    order = defaultdict(list)
    for parcel in accepted:
        order[parcel.client_id].append(parcel.id)
    assert all(ids == sorted(ids) for ids in order.values()), "out of order"
