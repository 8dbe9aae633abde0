"""The cast of the store and door tests: a client, and messages to her."""

from datetime import UTC, datetime
from typing import Any

from assistant.store import Store
from assistant.store.models import Client, Designer, Outgoing
from assistant.store.parcels import fingerprint

NOW = datetime(2027, 3, 1, 15, 0, tzinfo=UTC)


def add_client(store: Store, **values: Any) -> int:
    with store.write() as session:
        client = Client(studio_id=1, created_at=NOW, **values)
        session.add(client)
    return client.id


def add_designer(store: Store) -> int:
    with store.write() as session:
        designer = Designer(
            studio_id=1, email="ada@example.com", name="Ada Example", password_hash="none", created_at=NOW
        )
        session.add(designer)
    return designer.id


def add_outgoing(store: Store, client_id: int, **values: Any) -> int:
    row: dict[str, Any] = {
        "studio_id": 1,
        "channel": "sms",
        "sender": "+12025550199",
        "recipient": "+12025550101",
        "subject": None,
        "text": "Which day is the party?",
        "purpose": "ask",
        "needs_yes": False,
        "due_at": NOW,
        "created_at": NOW,
        **values,
    }
    row.setdefault("fingerprint", fingerprint(row["subject"], row["text"]))
    with store.write() as session:
        outgoing = Outgoing(client_id=client_id, **row)
        session.add(outgoing)
    return outgoing.id


def outgoing(store: Store, outgoing_id: int) -> Outgoing:
    with store.read() as session:
        return session.get_one(Outgoing, outgoing_id)
