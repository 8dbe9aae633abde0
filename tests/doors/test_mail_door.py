"""A mail is taken once from whoever knows the secret; what can't be read is kept and shown."""

import threading
from email.message import EmailMessage
from typing import Any

import pytest
from cast import NOW
from doors_cast import make_app
from flask.testing import FlaskClient
from sqlalchemy import func, select

from assistant.doors import hook
from assistant.store import Store, StoreBusy
from assistant.store.models import Message, Task

SECRET = "a secret of the mail host"
MAIL = (
    b"From: Dana Example <Dana@example.org>\r\nTo: studio@example.com\r\nSubject: =?utf-8?q?Arco_?= for June\r\n"
    b"Message-ID: <1@example.org>\r\nIn-Reply-To: <0@example.com>\r\nReferences: <x@example.com> <0@example.com>\r\n"
    b"\r\nA 10 ft arch, please.\r\n\r\nThanks,\r\nDana\r\n"
)


def post(client: FlaskClient, raw: bytes = MAIL, *, age: int = 0, secret: str = SECRET, **headers: str) -> Any:
    when = int(NOW.timestamp()) - age
    signed = {hook.TIME_HEADER: str(when), hook.SIGNATURE_HEADER: hook.sign(secret, when, raw), **headers}
    return client.post("/doors/mail", data=raw, headers=signed, content_type="message/rfc822")


def open_door(store: Store, **settings: Any) -> Any:
    app, flow, clock = make_app(store, mail_hook_secret=SECRET, mail_address="studio@example.com", **settings)
    return app.test_client(), flow, clock


def count(store: Store) -> int:
    with store.read() as session:
        return session.scalar(select(func.count(Message.id))) or 0


def test_a_signed_mail_becomes_one_message(store: Store) -> None:
    client, flow, _ = open_door(store)
    assert post(client).status_code == 204
    (inbound,) = flow.got
    assert (inbound.channel, inbound.provider_id, inbound.sender) == ("email", "<1@example.org>", "dana@example.org")
    assert (inbound.subject, inbound.sender_name) == ("Arco for June", "Dana Example")
    assert inbound.text == "A 10 ft arch, please.\n\nThanks,\nDana"
    assert inbound.thread_ids == ("<0@example.com>", "<x@example.com>")
    assert (inbound.raw, inbound.automatic) == (MAIL, False)


@pytest.mark.parametrize(
    "call",
    [
        {"secret": "another"},
        {"age": 301},
        {"age": -301},
        {hook.SIGNATURE_HEADER: ""},
        {hook.SIGNATURE_HEADER: "é"},
        {hook.TIME_HEADER: "soon"},
        {hook.TIME_HEADER: str(int(NOW.timestamp()) - 1)},
        {hook.TIME_HEADER: "9" * 40},
    ],
)
def test_a_forged_or_old_mail_is_refused_and_leaves_no_trace(sqlite_store: Store, call: dict[str, Any]) -> None:
    client, flow, _ = open_door(sqlite_store)
    assert post(client, **call).status_code == 403
    assert (flow.got, count(sqlite_store)) == ([], 0)


def test_without_a_secret_the_door_is_closed_and_says_how_to_open_it(sqlite_store: Store) -> None:
    app, _, _ = make_app(sqlite_store)
    answer = post(app.test_client())
    assert answer.status_code == 403
    assert "ASSISTANT_MAIL_HOOK_SECRET" in answer.text


def test_a_replay_within_the_window_changes_nothing(store: Store) -> None:
    client, _, _ = open_door(store)
    barrier = threading.Barrier(4)

    def deliver() -> None:
        barrier.wait()
        for _ in range(5):
            assert post(client.application.test_client()).status_code == 204

    threads = [threading.Thread(target=deliver) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert count(store) == 1


def test_two_mails_under_one_message_id_are_two_messages(store: Store) -> None:
    client, _, _ = open_door(store)
    other = MAIL.replace(b"10 ft", b"12 ft")
    rerouted = b"Received: from elsewhere\r\n" + MAIL
    for raw in (MAIL, other, other, rerouted):
        assert post(client, raw).status_code == 204
    assert count(store) == 2


def test_a_mail_without_message_id_is_recognised_by_its_bytes(store: Store) -> None:
    client, flow, _ = open_door(store)
    raw = MAIL.replace(b"Message-ID: <1@example.org>\r\n", b"")
    assert [post(client, raw).status_code for _ in range(2)] == [204, 204]
    assert [inbound.provider_id[:7] for inbound in flow.got] == ["sha256:"]


@pytest.mark.parametrize("raw", [b"", b"\0\xff\xfe", b"no mail at all", b"Subject: x\r\n\r\nwithout a sender"])
def test_what_is_no_mail_is_kept_once_with_a_task(store: Store, raw: bytes) -> None:
    client, flow, _ = open_door(store)
    assert [post(client, raw).status_code for _ in range(2)] == [204, 204]
    assert flow.got == []
    with store.read() as session:
        assert session.scalars(select(Message.raw)).all() == [raw]
        assert session.scalars(select(Task.kind)).all() == ["unreadable"]


def test_a_mail_that_breaks_the_flow_is_kept_and_does_not_come_back(store: Store) -> None:
    client, flow, _ = open_door(store)
    flow.trouble = RuntimeError("private words")
    assert post(client).status_code == 204
    with store.read() as session:
        assert session.scalars(select(Message.raw)).all() == [MAIL]


def test_a_busy_store_asks_for_the_mail_again(sqlite_store: Store) -> None:
    client, flow, _ = open_door(sqlite_store)
    flow.trouble = StoreBusy("busy")
    assert post(client).status_code == 503


def test_a_mail_over_the_limit_is_refused_in_a_plain_sentence(sqlite_store: Store) -> None:
    client, flow, _ = open_door(sqlite_store)
    answer = post(client, MAIL + b"x" * (10 * 1024 * 1024))
    assert answer.status_code == 413
    assert answer.text.startswith("The message is larger than 10240 KiB")
    assert flow.got == []


def test_a_subject_that_hides_a_line_break_is_one_line(sqlite_store: Store) -> None:
    client, flow, _ = open_door(sqlite_store)
    post(client, MAIL.replace(b"=?utf-8?q?Arco_?= for June", b"=?utf-8?q?Hi=0d=0aBcc:_x=40example.net?="))
    assert flow.got[0].subject == "Hi Bcc: x@example.net"


def test_a_mail_in_html_alone_is_read(sqlite_store: Store) -> None:
    client, flow, _ = open_door(sqlite_store)
    mail = EmailMessage()
    mail["From"], mail["To"] = "dana@example.org", "studio@example.com"
    mail.set_content("<p>A <b>10 ft</b> arch</p><blockquote>Which day?</blockquote>", subtype="html")
    post(client, mail.as_bytes())
    assert (flow.got[0].text, flow.got[0].whole_text) == ("A 10 ft arch", "A 10 ft arch\n\nWhich day?")


def test_our_own_mail_that_comes_back_is_answered_by_nobody(sqlite_store: Store) -> None:
    client, flow, _ = open_door(sqlite_store)
    post(client, MAIL.replace(b"Dana@example.org", b"Studio@example.com"))
    assert flow.got[0].automatic


def test_a_forwarded_mail_is_read_whole(sqlite_store: Store) -> None:
    client, flow, _ = open_door(sqlite_store)
    body = b"see below\r\n\r\n---------- Forwarded message ---------\r\nFrom: Eli\r\nDate: Monday\r\n\r\n10 ft arch"
    post(client, b"From: dana@example.org\r\nSubject: Fwd: arch\r\n\r\n" + body)
    assert flow.got[0].text.endswith("10 ft arch")


def test_pictures_are_noted_and_the_whole_mail_is_kept(sqlite_store: Store) -> None:
    client, flow, _ = open_door(sqlite_store)
    mail = EmailMessage()
    mail["From"], mail["To"] = "dana@example.org", "studio@example.com"
    mail.set_content("like this one")
    mail.add_attachment(b"\x89PNG", maintype="image", subtype="png", filename="arch.png")
    post(client, mail.as_bytes())
    assert (flow.got[0].text, flow.got[0].note) == ("like this one", "sent 1 file")
