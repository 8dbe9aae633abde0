"""A flow over real rules and a real store, with a clock that tests move."""

from datetime import datetime
from functools import cache
from itertools import count
from zoneinfo import ZoneInfo

from sqlalchemy import select

from assistant.doors.inbound import Inbound
from assistant.flow import Flow
from assistant.flow.addresses import Addresses
from assistant.flow.drafts import open_draft
from assistant.flow.rooms import Rooms, load_rooms
from assistant.store import Store
from assistant.store.models import Designer, Draft, Inquiry, Outgoing, Task

ZONE = ZoneInfo("America/New_York")
COMPLETE = (
    "Hi! Baby shower Sat May 22 at 1pm, Linden Hall on Walnut St, Springfield 62704, indoors. "
    "10 ft organic garland in sage, ivory and gold, regular fullness. We will take it down. Thanks, Dana"
)


@cache
def shipped_rooms() -> Rooms:
    return load_rooms(None)


class Studio:
    """A studio at work: texts come in, she decides, tests look at what is in the store."""

    def __init__(self, store: Store, rooms: Rooms) -> None:
        self.store, self.time = store, datetime(2027, 3, 1, 10, 0, tzinfo=ZONE)
        addresses = Addresses(sms="+12025550100", email="hello@example.com")
        self.flow = Flow(store=store, rooms=rooms, studio_id=1, addresses=addresses, now=lambda: self.time)
        self._numbers = count(1)
        with store.write() as session:
            for name in ("Ana", "Bea"):
                session.add(
                    Designer(
                        studio_id=1, email=f"{name}@example.com", name=name, password_hash="-", created_at=self.time
                    )
                )

    def text(self, body: str, sender: str = "+12025550111", **more: object) -> int:
        """Let a text come in; return its inquiry."""
        fields = {
            "channel": "sms",
            "provider_id": f"SM{next(self._numbers):032x}",
            "sender": sender,
            "recipient": "+12025550100",
            "text": body,
            "received_at": self.time,
            **more,
        }
        receipt = self.flow.receive(Inbound(**fields))  # type: ignore[arg-type]
        return receipt.inquiry_id or 0

    def inquiry(self, ident: int) -> Inquiry:
        with self.store.read() as session:
            return session.get_one(Inquiry, ident)

    def draft(self, inquiry_id: int) -> Draft | None:
        with self.store.read() as session:
            return open_draft(session, inquiry_id)

    def sent(self) -> list[Outgoing]:
        with self.store.read() as session:
            return list(session.scalars(select(Outgoing).order_by(Outgoing.id)))

    def tasks(self) -> list[Task]:
        with self.store.read() as session:
            return list(session.scalars(select(Task).where(Task.done_at.is_(None)).order_by(Task.id)))

    def say_yes(self, draft: Draft, text: str | None = None, designer_id: int = 1) -> int:
        return self.flow.approve(
            draft.id,
            fingerprint=draft.fingerprint,
            text=draft.text if text is None else text,
            subject=draft.subject,
            designer_id=designer_id,
        )
