"""Mail against a real SMTP server (aiosmtpd); a header can't be broken out of, and an unclear end is said."""

import socket
import ssl
import subprocess
from collections.abc import Iterator
from email import message_from_bytes
from pathlib import Path
from typing import Any

import pytest
from aiosmtpd.controller import Controller
from aiosmtpd.smtp import SMTP as Server
from cast import NOW, add_client, add_outgoing

from assistant.doors.transports import Refused, TryLater, Unsure
from assistant.doors.transports.smtp import Smtp, compose
from assistant.store import Store, outbox
from assistant.store.parcels import Parcel

BODY = "Hi Dana,\nwhich day is the party? ¿Qué día?\n.\nAda"


class Mailbox:
    """Keeps what came; ``rcpt`` and ``data`` are the answers it gives instead of accepting."""

    def __init__(self) -> None:
        self.mails: list[Any] = []
        self.rcpt = self.data = "250 OK"
        self.cut = False

    async def handle_RCPT(self, _server: Any, _session: Any, envelope: Any, address: str, _options: Any) -> str:
        if self.rcpt.startswith("250"):
            envelope.rcpt_tos.append(address)
        return self.rcpt

    async def handle_DATA(self, server: Server, _session: Any, envelope: Any) -> str:
        if self.data.startswith("250"):
            self.mails.append(envelope)
        if self.cut:
            server.transport.abort()
        return self.data


@pytest.fixture
def mailbox() -> Mailbox:
    return Mailbox()


@pytest.fixture
def server(mailbox: Mailbox) -> Iterator[Controller]:
    controller = Controller(mailbox, hostname="127.0.0.1", port=free_port())
    controller.start()
    yield controller
    controller.stop()


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def make_parcel(store: Store, **values: Any) -> Parcel:
    mail = {"channel": "email", "sender": "studio@example.com", "recipient": "dana@example.org", "text": BODY}
    add_outgoing(store, add_client(store), **{**mail, "subject": "Re: garland", **values})
    with store.write() as session:
        found = outbox.claim(session, NOW)
    assert found
    return found


def way_to(server: Controller) -> Smtp:
    return Smtp(server.hostname, server.port, tls="none")


def test_a_mail_arrives_as_it_was_approved_and_in_its_thread(
    server: Controller, mailbox: Mailbox, sqlite_store: Store
) -> None:
    thread = {"In-Reply-To": "<q@example.org>", "References": "<p@example.org> <q@example.org>"}
    headers = {**thread, "Bcc": "x@example.net"}
    parcel = make_parcel(sqlite_store, headers=headers)
    name = way_to(server).send(parcel)
    envelope = mailbox.mails[0]
    mail = message_from_bytes(envelope.content)
    assert (envelope.mail_from, envelope.rcpt_tos) == ("studio@example.com", ["dana@example.org"])
    assert mail.get_payload(decode=True).decode().replace("\r\n", "\n").rstrip("\n") == BODY
    assert (mail["Message-ID"], mail["In-Reply-To"], mail["Bcc"]) == (name, "<q@example.org>", None)
    assert mail["References"] == "<p@example.org> <q@example.org>"


def test_the_same_mail_has_the_same_message_id_whenever_it_is_sent(sqlite_store: Store) -> None:
    parcel = make_parcel(sqlite_store)
    assert compose(parcel)["Message-ID"] == compose(parcel)["Message-ID"]


def test_only_an_answer_without_a_person_is_marked_automatic(sqlite_store: Store) -> None:
    """RFC 3834, section 5: Auto-Submitted: auto-replied."""
    from cast import add_designer

    assert compose(make_parcel(sqlite_store))["Auto-Submitted"] == "auto-replied"
    by_hand = make_parcel(sqlite_store, approved_by=add_designer(sqlite_store))
    assert compose(by_hand)["Auto-Submitted"] is None


@pytest.mark.parametrize("field", ["subject", "recipient", "References"])
@pytest.mark.parametrize("breaker", ["\r\nBcc: x@example.net", "\nBcc: x@example.net", "\rBcc: x@example.net"])
def test_a_line_break_in_a_header_is_refused(sqlite_store: Store, field: str, breaker: str) -> None:
    value = f"dana@example.org{breaker}"
    values = {"headers": {field: value}} if field == "References" else {field: value}
    with pytest.raises(Refused, match="line break"):
        compose(make_parcel(sqlite_store, **values))


@pytest.mark.parametrize(
    ("step", "answer", "problem"),
    [
        ("rcpt", "550 no such mailbox", Refused),
        ("rcpt", "451 try again", TryLater),
        ("data", "554 refused", Refused),
        ("data", "452 full", TryLater),
    ],
)
def test_a_clear_no_is_told_apart_from_not_now(
    server: Controller, mailbox: Mailbox, sqlite_store: Store, step: str, answer: str, problem: type[Exception]
) -> None:
    setattr(mailbox, step, answer)
    with pytest.raises(problem, match=answer[:3]):
        way_to(server).send(make_parcel(sqlite_store))


def test_a_cut_after_the_final_dot_is_unclear(server: Controller, mailbox: Mailbox, sqlite_store: Store) -> None:
    mailbox.cut = True
    with pytest.raises(Unsure):
        way_to(server).send(make_parcel(sqlite_store))
    assert len(mailbox.mails) == 1


def test_a_server_that_is_not_there_took_nothing(sqlite_store: Store) -> None:
    with pytest.raises(TryLater, match="could not be reached"):
        Smtp("127.0.0.1", free_port(), tls="none").send(make_parcel(sqlite_store))


@pytest.fixture
def certificate(tmp_path: Path) -> tuple[Path, Path]:
    key, cert = tmp_path / "key.pem", tmp_path / "cert.pem"
    command = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "2", "-subj", "/CN=localhost"]
    more = ["-addext", "subjectAltName=DNS:localhost,IP:127.0.0.1", "-keyout", str(key), "-out", str(cert)]
    try:
        subprocess.run([*command, *more], check=True, capture_output=True)
    except FileNotFoundError:
        pytest.skip("no openssl here to make a certificate with")
    return key, cert


@pytest.mark.parametrize("trusted", [True, False])
def test_mail_goes_only_to_a_server_whose_certificate_is_trusted(
    mailbox: Mailbox, sqlite_store: Store, certificate: tuple[Path, Path], trusted: bool
) -> None:
    key, cert = certificate
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    context.load_cert_chain(cert, key)
    controller = Controller(
        mailbox, hostname="127.0.0.1", port=free_port(), tls_context=context, require_starttls=True
    )
    controller.start()
    known = ssl.create_default_context(cafile=str(cert)) if trusted else None
    way = Smtp("127.0.0.1", controller.port, tls="starttls", certificates=known)
    parcel = make_parcel(sqlite_store)
    try:
        if trusted:
            way.send(parcel)
        else:
            with pytest.raises(TryLater):
                way.send(parcel)
    finally:
        controller.stop()
    assert len(mailbox.mails) == int(trusted)
