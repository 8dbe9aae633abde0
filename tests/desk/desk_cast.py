"""The cast of the desk tests: a studio with invented clients, a flow that decides as told, a browser that logs in."""

import re
import threading
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import update

from assistant.config import Settings
from assistant.desk import init_desk
from assistant.flow.errors import AlreadyDecided, NothingToSend, TextChanged
from assistant.loading.availability import load_calendar
from assistant.loading.pricing import load_price_book
from assistant.pricing import price
from assistant.rulebook import Rulebook
from assistant.runtime import Runtime
from assistant.store import Store
from assistant.store.models import (
    Address,
    Booking,
    Client,
    Designer,
    Draft,
    Inquiry,
    Message,
    Outgoing,
    Studio,
    Task,
)
from assistant.store.parcels import fingerprint

NOW = datetime(2027, 3, 1, 15, 0, tzinfo=UTC)
MAIL, PASSWORD = "marit@example.com", "four unrelated words here"
HEADERS = {"Sec-Fetch-Site": "same-origin"}


_PHONES = (f"+1{area}555{number:04d}" for area in range(303, 900) for number in range(100, 200))


class Clock:
    """Says what time it is; turned by hand."""

    def __init__(self) -> None:
        self.now = NOW

    def __call__(self) -> datetime:
        return self.now

    def turn(self, **by: float) -> None:
        self.now += timedelta(**by)


@dataclass
class FakeFlow:
    """Decides on drafts as the real flow promises to, and remembers what it was asked."""

    store: Store
    now: Clock
    asked: list[tuple[Any, ...]] = field(default_factory=list)
    trouble: BaseException | None = None

    def _ask(self, *asked: Any) -> None:
        self.asked.append(asked)
        if self.trouble:
            raise self.trouble

    def approve(self, draft_id: int, *, fingerprint: str, text: str, subject: str | None, designer_id: int) -> int:
        self._ask("approve", draft_id, text, subject)
        with self.store.write() as session:
            draft = session.get_one(Draft, draft_id)
            if draft.state not in ("waiting", "kept"):
                by = session.get_one(Designer, draft.decided_by)
                raise AlreadyDecided(by.name, draft.decided_at, draft.state)
            if draft.fingerprint != fingerprint:
                raise TextChanged
            if not text.strip():
                raise NothingToSend("the reply is empty: write something")
            self._decide(draft, "approved", designer_id)
            inquiry = session.get_one(Inquiry, draft.inquiry_id)
            inquiry.state = "quoted"
            return self._send(session, inquiry, text, subject, designer_id, draft_id)

    def keep(self, draft_id: int, *, designer_id: int) -> None:
        self._ask("keep", draft_id)
        with self.store.write() as session:
            self._decide(session.get_one(Draft, draft_id), "kept", designer_id)

    def answer_myself(self, inquiry_id: int, *, designer_id: int) -> None:  # noqa: ARG002
        self._ask("answer_myself", inquiry_id)
        with self.store.write() as session:
            session.execute(
                update(Draft).where(Draft.inquiry_id == inquiry_id, Draft.state == "waiting").values(state="dropped")
            )

    def write(self, inquiry_id: int, *, text: str, subject: str | None, designer_id: int) -> int:
        self._ask("write", inquiry_id, text, subject)
        with self.store.write() as session:
            return self._send(session, session.get_one(Inquiry, inquiry_id), text, subject, designer_id, None)

    def close(self, inquiry_id: int, *, reason: str, designer_id: int) -> None:  # noqa: ARG002
        self._ask("close", inquiry_id, reason)
        with self.store.write() as session:
            inquiry = session.get_one(Inquiry, inquiry_id)
            inquiry.state, inquiry.closed_reason = "closed", reason

    def settle(self, inquiry_id: int, outgoing_id: int, *, arrived: bool, designer_id: int) -> None:  # noqa: ARG002
        self._ask("settle", inquiry_id, outgoing_id, arrived)

    def done_task(self, task_id: int, *, designer_id: int) -> None:
        self._ask("done_task", task_id)
        with self.store.write() as session:
            task = session.get_one(Task, task_id)
            task.done_at, task.done_by = self.now(), designer_id

    def edit_facts(self, inquiry_id: int, changes: dict[str, Any], designer_id: int | None) -> None:  # noqa: ARG002
        self._ask("edit_facts", inquiry_id, changes)
        with self.store.write() as session:
            inquiry = session.get_one(Inquiry, inquiry_id)
            facts = {**inquiry.facts, **changes}
            inquiry.facts = {name: fact for name, fact in facts.items() if fact is not None}
            inquiry.version += 1

    def _decide(self, draft: Draft, state: str, designer_id: int) -> None:
        draft.state, draft.decided_by, draft.decided_at = state, designer_id, self.now()

    def _send(
        self, session: Any, inquiry: Inquiry, text: str, subject: str | None, designer_id: int, draft_id: int | None
    ) -> int:
        row = outgoing(inquiry, text=text, subject=subject, approved_by=designer_id, draft_id=draft_id)
        session.add(row)
        session.flush()
        return row.id


def outgoing(inquiry: Inquiry, *, text: str, subject: str | None = None, **values: Any) -> Outgoing:
    """A message to send to an inquiry's client."""
    return Outgoing(
        **{
            "studio_id": inquiry.studio_id,
            "inquiry_id": inquiry.id,
            "client_id": inquiry.client_id,
            "channel": inquiry.channel,
            "sender": "+12025550100",
            "recipient": "+12025550101",
            "subject": subject,
            "text": text,
            "fingerprint": fingerprint(subject, text),
            "purpose": "draft",
            "needs_yes": True,
            "due_at": NOW,
            "created_at": NOW,
            **values,
        }
    )


@cache
def rooms() -> Any:
    """The rooms that the desk looks into: the real price book and calendar, and an invented studio."""
    book = Rulebook()
    studio = SimpleNamespace(
        name="Invented Balloon Studio", zone="America/New_York", locale="en_US", currency="USD", languages=["en", "es"]
    )
    return SimpleNamespace(studio=studio, price_book=load_price_book(book), calendar=load_calendar(book))


def make_app(store: Store, clock: Clock, flow: Any = None, **settings: Any) -> Flask:
    """The desk alone on an app."""
    given = {"database_url": "", "secret_key": "k" * 32, "tray": True, "demo": True, **settings}
    runtime = Runtime(
        settings=Settings(**given),
        store=store,
        rooms=rooms(),
        flow=flow or FakeFlow(store, clock),
        now=clock,
        studio_id=1,
        folder=Path("unused"),
    )
    app = Flask("assistant", static_folder=None)
    app.config["MAX_CONTENT_LENGTH"] = 12 * 1024 * 1024
    app.extensions["runtime"] = runtime
    init_desk(app, runtime)
    return app


@dataclass
class Studios:
    """What ``seed`` wrote: ids by name."""

    designers: dict[str, int]
    inquiries: dict[str, int]
    drafts: dict[str, int]


def add_designer(store: Store, password_hash: str, *, email: str = MAIL, name: str = "Marit", studio: int = 1) -> int:
    with store.write() as session:
        row = Designer(studio_id=studio, email=email, name=name, password_hash=password_hash, created_at=NOW)
        session.add(row)
    return row.id


def add_inquiry(
    store: Store,
    texts: list[str],
    *,
    facts: dict[str, Any] | None = None,
    name: str | None = None,
    phone: str | None = None,
    channel: str = "sms",
    state: str = "drafted",
    studio: int = 1,
    at: datetime = NOW,
    priced: bool = False,
    verdict: dict[str, Any] | None = None,
    draft: str | None = None,
    subject: str | None = None,
    reasons: list[str] | None = None,
    **values: Any,
) -> int:
    """An inquiry with its client, the client's messages, and a draft if one is given."""
    facts, phone = facts or {}, phone or next(_PHONES)
    quote = price(facts, rooms().price_book, today=date(2027, 3, 1)).to_json() if priced else None
    with store.write() as session:
        client = Client(studio_id=studio, name=name, created_at=at)
        session.add(client)
        session.flush()
        session.add(Address(studio_id=studio, client_id=client.id, channel=channel, value=phone))
        inquiry = Inquiry(
            studio_id=studio,
            client_id=client.id,
            channel=channel,
            state=state,
            facts=facts,
            quote=quote,
            verdict=verdict,
            subject=subject,
            created_at=at,
            updated_at=at,
            **values,
        )
        session.add(inquiry)
        session.flush()
        for number, text in enumerate(texts):
            session.add(message(inquiry, text, phone, at + timedelta(minutes=number)))
        if draft is not None:
            session.add(make_draft(inquiry, draft, subject, at, reasons or []))
    return inquiry.id


def message(inquiry: Inquiry, text: str, sender: str, at: datetime) -> Message:
    return Message(
        studio_id=inquiry.studio_id,
        inquiry_id=inquiry.id,
        direction="in",
        channel=inquiry.channel,
        provider_id=f"in-{inquiry.id}-{at.timestamp()}-{text[:8]}",
        sender=sender,
        recipient="+12025550100",
        text=text,
        received_at=at,
    )


def make_draft(inquiry: Inquiry, text: str, subject: str | None, at: datetime, reasons: list[str]) -> Draft:
    return Draft(
        studio_id=inquiry.studio_id,
        inquiry_id=inquiry.id,
        version=1,
        text=text,
        subject=subject,
        fingerprint=fingerprint(subject, text),
        parts=1 + len(text) // 161,
        purpose="draft",
        quote=inquiry.quote,
        rules_version="1",
        reasons=reasons,
        created_at=at,
    )


def draft_of(store: Store, inquiry_id: int) -> Draft:
    with store.read() as session:
        return session.query(Draft).filter_by(inquiry_id=inquiry_id).order_by(Draft.id.desc()).first()  # type: ignore[return-value]


def token_in(html: str) -> str:
    """The form token of a page."""
    found = re.search(r'name="form_token" value="([0-9a-f]+)"', html)
    assert found, "the page has no form token"
    return found.group(1)


class Person:
    """A browser without a window, for one designer."""

    def __init__(self, app: Flask) -> None:
        self.web: FlaskClient = app.test_client()

    def log_in(self, email: str = MAIL, password: str = PASSWORD, **more: str) -> Any:
        token = token_in(self.web.get("/desk/login").text)
        data = {"form_token": token, "email": email, "password": password, **more}
        return self.web.post("/desk/login", data=data, headers=HEADERS)

    def get(self, path: str) -> Any:
        return self.web.get(path, headers=HEADERS)

    def post(self, path: str, data: dict[str, Any] | None = None, *, page: str = "/desk") -> Any:
        token = token_in(self.web.get(page).text)
        return self.web.post(path, data={"form_token": token, **(data or {})}, headers=HEADERS)


def at_once(*calls: Any) -> list[Any]:
    """What each call answers when all begin at the same moment."""
    barrier, answers = threading.Barrier(len(calls)), [None] * len(calls)

    def run(index: int) -> None:
        barrier.wait()
        answers[index] = calls[index]()

    threads = [threading.Thread(target=run, args=(index,)) for index in range(len(calls))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return answers


def add_studio(store: Store, studio_id: int) -> None:
    with store.write() as session:
        session.add(Studio(id=studio_id, name="The Other Invented Studio", created_at=NOW))


def add_booking(store: Store, *, studio: int = 1, **values: Any) -> int:
    with store.write() as session:
        row = Booking(
            **{
                "studio_id": studio,
                "kind": "job",
                "title": "Invented job",
                "day": date(2027, 3, 20),
                "start_at": datetime(2027, 3, 20, 14, tzinfo=UTC),
                "end_at": datetime(2027, 3, 20, 18, tzinfo=UTC),
                "zone": "America/New_York",
                "crew_minutes": 240,
                "build_minutes": 180,
                "created_at": NOW,
                **values,
            }
        )
        session.add(row)
    return row.id


def add_task(store: Store, inquiry_id: int | None, reason: str, *, studio: int = 1) -> int:
    with store.write() as session:
        row = Task(studio_id=studio, inquiry_id=inquiry_id, kind="decide", reason=reason, created_at=NOW)
        session.add(row)
    return row.id


def add_send(store: Store, inquiry_id: int, text: str, **values: Any) -> int:
    with store.write() as session:
        row = outgoing(session.get_one(Inquiry, inquiry_id), text=text, **values)
        session.add(row)
    return row.id
