"""The whole program put together on either database: a text delivered often, by many at once, has one effect."""

import threading
from collections import Counter
from pathlib import Path

import pytest
from cast import NOW
from sqlalchemy import func, select
from twilio.request_validator import RequestValidator

from assistant.composition import open_runtime, transports_of
from assistant.config import Settings
from assistant.doors.sender import Sender
from assistant.runtime import Runtime
from assistant.store.models import Client, Inquiry, Message, Outgoing, Studio
from assistant.web import create_app

FORM = {
    "MessageSid": "SM00000000000000000000000000000001",
    "From": "+12025550101",
    "To": "+12025550199",
    "Body": "Hi! Need a balloon garland for a birthday",
    "NumMedia": "0",
}


@pytest.fixture
def runtime(empty_database_url: str, tmp_path: Path) -> Runtime:
    settings = Settings(
        database_url=empty_database_url,
        twilio_auth_token="12345",
        twilio_number="+12025550199",
        public_url="https://studio.example.com",
        secret_key="0123456789abcdef" * 4,
        demo=True,
    )
    return open_runtime(tmp_path, settings, lambda: NOW)


def post(runtime: Runtime, app: object, **changes: str) -> int:
    form = {**FORM, **changes}
    url = "https://studio.example.com/doors/sms"
    signature = RequestValidator("12345").compute_signature(url, form)
    answer = app.test_client().post(  # type: ignore[attr-defined]
        "/doors/sms", data=form, headers={"X-Twilio-Signature": signature}, base_url="https://studio.example.com"
    )
    return int(answer.status_code)


def test_a_text_delivered_by_eight_at_once_is_one_message_and_one_reaction(runtime: Runtime) -> None:
    app, statuses, barrier = create_app(runtime), [], threading.Barrier(8)

    def deliver() -> None:
        barrier.wait()
        statuses.append(post(runtime, app))

    threads = [threading.Thread(target=deliver) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert statuses == [200] * 8
    with runtime.store.read() as session:
        counts = [session.scalar(select(func.count(table.id))) for table in (Message, Client, Inquiry, Outgoing)]
    assert counts == [1, 1, 1, 1]
    runtime.store.close()


def test_many_new_clients_at_once_are_all_answered_into_the_tray(runtime: Runtime) -> None:
    app, statuses = create_app(runtime), []

    def deliver(number: int) -> None:
        statuses.append(post(runtime, app, From=f"+1202555{number:04}", MessageSid=f"SM{number}"))

    threads = [threading.Thread(target=deliver, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert statuses == [200] * 8
    sender = Sender(runtime, transports_of(runtime))
    sender.run_once(50)
    with runtime.store.read() as session:
        assert session.scalar(select(func.count(Client.id))) == 8
        assert Counter(session.scalars(select(Outgoing.state))) == {"sent": 8}
    assert len(list((runtime.folder / "tray").iterdir())) == 8
    runtime.store.close()


def test_opening_twice_makes_one_studio(runtime: Runtime) -> None:
    again = open_runtime(runtime.folder, runtime.settings, lambda: NOW)
    assert again.studio_id == runtime.studio_id
    with runtime.store.read() as session:
        assert session.scalar(select(func.count(Studio.id))) == 1
    runtime.store.close()
    again.store.close()
