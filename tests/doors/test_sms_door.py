"""A text is taken once from the provider alone; anything else leaves no trace."""

import threading
from typing import Any
from urllib.parse import urlencode

import pytest
from cast import NOW, add_client, add_outgoing, outgoing
from doors_cast import make_app
from flask.testing import FlaskClient
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select
from twilio.request_validator import RequestValidator
from werkzeug.datastructures import MultiDict

from assistant.doors.sms import LONGEST, FieldMissing, read_sms
from assistant.store import Store, StoreBusy
from assistant.store import store as store_module
from assistant.store.models import AuditLine, Message, Task

URL = "https://studio.example.com/doors/sms"
FORM = {
    "MessageSid": "SM00000000000000000000000000000001",
    "From": "+12025550101",
    "To": "+12025550199",
    "Body": "Hi, need a garland 3/14!",
    "NumMedia": "0",
}


def post(client: FlaskClient, form: Any = FORM, *, url: str = URL, token: str = "12345", **more: Any) -> Any:
    signature = RequestValidator(token).compute_signature(url, MultiDict(form))
    headers = {"X-Twilio-Signature": signature, **more.pop("headers", {})}
    return client.post(more.pop("path", "/doors/sms"), data=more.pop("data", form), headers=headers, **more)


def rows(store: Store) -> int:
    with store.read() as session:
        return sum(session.scalar(select(func.count(table.id))) or 0 for table in (Message, Task, AuditLine))


def test_a_signed_text_is_stored_and_answered_with_no_reply(store: Store) -> None:
    app, flow, _ = make_app(store)
    answer = post(app.test_client())
    assert (answer.status_code, answer.mimetype) == (200, "text/xml")
    assert answer.text.endswith("<Response></Response>")
    (inbound,) = flow.got
    assert (inbound.channel, inbound.sender, inbound.text) == ("sms", "+12025550101", FORM["Body"])


MUTANTS: dict[str, dict[str, Any]] = {
    "wrong key or other studio": {"token": "54321"},
    "changed body": {"data": {**FORM, "Body": "Hi, need a garland 3/15!"}},
    "added parameter": {"data": {**FORM, "Extra": "1"}},
    "dropped parameter": {"data": {key: value for key, value in FORM.items() if key != "NumMedia"}},
    "doubled parameter": {"data": MultiDict([*FORM.items(), ("Body", FORM["Body"])])},
    "second value": {"data": MultiDict([*FORM.items(), ("Body", "other")])},
    "http for https": {"url": "http://studio.example.com/doors/sms"},
    "other host": {"url": "https://other.example.com/doors/sms"},
    "other path": {"url": "https://studio.example.com/doors/mail"},
    "added query": {"path": "/doors/sms?x=1"},
    "JSON with a form's signature": {"data": '{"Body": "hi"}', "content_type": "application/json"},
    "no signature": {"headers": {"X-Twilio-Signature": ""}},
    "garbage signature": {"headers": {"X-Twilio-Signature": "é" * 28}},
}


@pytest.mark.parametrize("name", MUTANTS)
def test_a_forged_call_is_refused_and_leaves_no_trace(sqlite_store: Store, name: str, caplog: Any) -> None:
    app, flow, _ = make_app(sqlite_store)
    with caplog.at_level("DEBUG"):
        answer = post(app.test_client(), **MUTANTS[name])
    assert answer.status_code == 403
    assert (rows(sqlite_store), flow.got) == (0, [])
    assert "garland" not in caplog.text


def test_forwarded_addresses_are_believed_only_from_a_configured_proxy(sqlite_store: Store) -> None:
    forwarded = {"X-Forwarded-Proto": "https", "X-Forwarded-Host": "studio.example.com"}
    for proxies, status in ((0, 403), (1, 200)):
        app, _, _ = make_app(sqlite_store, public_url=None, trusted_proxies=proxies)
        assert post(app.test_client(), headers=forwarded).status_code == status
    app, _, _ = make_app(sqlite_store)
    assert post(app.test_client(), headers={"X-Forwarded-Host": "evil.example.net"}).status_code == 200


def test_without_a_token_the_door_is_closed_and_says_how_to_open_it(sqlite_store: Store) -> None:
    app, _, _ = make_app(sqlite_store, twilio_auth_token=None)
    answer = post(app.test_client())
    assert answer.status_code == 403
    assert "ASSISTANT_TWILIO_AUTH_TOKEN" in answer.text


@pytest.mark.parametrize("name", ["MessageSid", "From", "To", "Body"])
def test_a_missing_field_is_named(sqlite_store: Store, name: str) -> None:
    app, flow, _ = make_app(sqlite_store)
    answer = post(app.test_client(), {key: value for key, value in FORM.items() if key != name})
    assert (answer.status_code, answer.text) == (400, f"The field {name} is missing.\n")
    assert flow.got == []


def test_the_same_text_delivered_often_by_eight_at_once_is_one_message(store: Store) -> None:
    app, _, _ = make_app(store)
    statuses: list[int] = []
    barrier = threading.Barrier(8)

    def deliver() -> None:
        barrier.wait()
        statuses.extend([post(app.test_client()).status_code for _ in range(5)])

    threads = [threading.Thread(target=deliver) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert statuses == [200] * 40
    assert rows(store) == 1


def test_a_store_that_is_busy_asks_for_the_message_again(sqlite_store: Store) -> None:
    app, flow, _ = make_app(sqlite_store)
    flow.trouble = StoreBusy("busy")
    answer = post(app.test_client())
    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "5")
    flow.trouble = None
    assert post(app.test_client()).status_code == 200


def test_a_database_held_by_another_writer_gives_503_and_later_200(
    sqlite_store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(store_module, "BUSY_MS", 50)
    impatient = Store(str(sqlite_store.engine.url))
    app, _, _ = make_app(impatient)
    with sqlite_store.write():
        assert post(app.test_client()).status_code == 503
    assert post(app.test_client()).status_code == 200
    assert rows(sqlite_store) == 1
    impatient.close()


def test_a_text_that_breaks_the_flow_is_kept_as_a_task_once(store: Store) -> None:
    app, flow, _ = make_app(store)
    flow.trouble = ZeroDivisionError("private words")
    assert [post(app.test_client()).status_code for _ in range(2)] == [200, 200]
    with store.read() as session:
        assert session.scalars(select(Message.raw)).all() == [FORM["Body"].encode()]
        assert session.scalars(select(Task.kind)).all() == ["unreadable"]


def test_a_form_over_the_limit_is_refused_in_a_plain_sentence(sqlite_store: Store) -> None:
    app, flow, _ = make_app(sqlite_store)
    answer = post(app.test_client(), {**FORM, "Body": "x" * 70_000})
    assert answer.status_code == 413
    assert answer.text == "The message is larger than 64 KiB, the most this door takes.\n"
    assert flow.got == []


def test_what_can_not_be_stored_as_it_is_is_mended_and_kept_beside(store: Store) -> None:
    app, flow, _ = make_app(store)
    assert post(app.test_client(), {**FORM, "Body": "a\0b %2541 🎈"}).status_code == 200
    (inbound,) = flow.got
    assert inbound.text == "a\ufffdb %2541 🎈"
    assert b"a%00b+%252541" in (inbound.raw or b"")
    assert rows(store) == 1


def test_pictures_and_long_texts_are_noted_and_nothing_is_lost(sqlite_store: Store) -> None:
    app, flow, _ = make_app(sqlite_store)
    body = "x" * (LONGEST + 1)
    post(app.test_client(), {**FORM, "Body": body, "NumMedia": "2", "MediaUrl0": "https://example.com/1"})
    (inbound,) = flow.got
    assert (inbound.whole_text, len(inbound.text)) == (body, LONGEST)
    assert (inbound.note or "").startswith("sent 2 photos; the text is long")
    assert b"MediaUrl0" in (inbound.raw or b"")


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.sampled_from([*FORM, "ErrorCode", "X"]), st.text(max_size=50), max_size=7))
def test_any_form_is_either_a_message_or_names_what_it_lacks(form: dict[str, str]) -> None:
    raw = urlencode(form, errors="replace").encode()
    lacks = [name for name in ("MessageSid", "From", "To") if not form.get(name, "").strip()]
    if lacks or "Body" not in form:
        with pytest.raises(FieldMissing, match="|".join([*lacks, "Body"])):
            read_sms(MultiDict(form), raw, NOW)
        return
    inbound = read_sms(MultiDict(form), raw, NOW)
    assert "\0" not in inbound.text + inbound.sender + inbound.provider_id
    assert inbound.text.encode("utf-8").decode("utf-8") == inbound.text


def test_a_report_reaches_the_message_that_the_address_names(store: Store) -> None:
    app, _, _ = make_app(store)
    row = add_outgoing(store, add_client(store))
    path = f"/doors/sms/status?outgoing={row}"
    form = {"MessageSid": "SM1", "MessageStatus": "delivered"}
    answer = post(app.test_client(), form, url=f"https://studio.example.com{path}", path=path)
    assert answer.status_code == 204
    assert (outgoing(store, row).delivery, outgoing(store, row).provider_id) == ("delivered", "SM1")


def test_a_forged_or_unknown_report_changes_nothing(sqlite_store: Store) -> None:
    app, _, _ = make_app(sqlite_store)
    row = add_outgoing(sqlite_store, add_client(sqlite_store))
    form = {"MessageSid": "SM1", "MessageStatus": "failed"}
    url = "https://studio.example.com/doors/sms/status"
    client = app.test_client()
    assert post(client, form, url=url, path=f"/doors/sms/status?outgoing={row}").status_code == 403
    assert post(client, form, url=url, path="/doors/sms/status").status_code == 204
    assert post(client, {"MessageSid": "SM1"}, url=url, path="/doors/sms/status").status_code == 400
    assert outgoing(sqlite_store, row).delivery is None
