"""Mail from machines is known by the published signs, and no sample mail breaks the reader.

Signs: RFC 3834 (section 2), RFC 2369 and 2919 (List-*), RFC 5321 (4.5.5, empty sender), RFC 3462 (multipart/report).
Samples: the message files of the CPython test suite (test.test_email), read from the installed library; and
RFC 5322, appendix A, in the forms it shows (written here with invented names).
"""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.doors.inbound import Inbound
from assistant.doors.mail import Unreadable, read_mail
from assistant.loading.mail import load_mail_rules
from assistant.rulebook import Rulebook

RULES = load_mail_rules(Rulebook())
NOW = datetime(2027, 3, 1, tzinfo=UTC)
REPORTS = ("msg_05.txt", "msg_16.txt", "msg_25.txt", "msg_43.txt")


def read(raw: bytes) -> Inbound:
    return read_mail(raw, RULES, own_address="studio@example.com", now=NOW)


def mail(*headers: str, sender: str = "dana@example.org", text: str = "A garland, please.") -> bytes:
    return "\r\n".join([f"From: {sender}", *headers, "", text]).encode()


@pytest.mark.parametrize(
    "header",
    [
        "Auto-Submitted: auto-replied",
        "Auto-Submitted: auto-generated; owner=x",
        "Auto-Submitted: auto-notified",
        "List-Id: <balloons.example.org>",
        "List-Unsubscribe: <https://example.org/u>",
        "Precedence: bulk",
        "Precedence: list",
        "Precedence: junk",
        "Return-Path: <>",
        "X-Auto-Response-Suppress: All",
        "X-Auto-Response-Suppress: DR, OOF, AutoReply",
        "Content-Type: multipart/report; report-type=delivery-status; boundary=b",
        "Sender: owner-balloons@example.org",
    ],
)
def test_each_sign_of_a_machine_is_known(header: str) -> None:
    assert read(mail(header)).automatic


@pytest.mark.parametrize(
    "sender", ["MAILER-DAEMON@example.org", "postmaster@example.org", "no-reply@example.org", "x-request@example.org"]
)
def test_machines_are_known_by_their_names(sender: str) -> None:
    assert read(mail(sender=sender)).automatic


@pytest.mark.parametrize(
    "header",
    [
        "Auto-Submitted: no",
        "Return-Path: <dana@example.org>",
        "X-Auto-Response-Suppress: DR, RN",
        "Precedence: normal",
        "Subject: list of balloons",
    ],
)
def test_a_persons_mail_is_not_taken_for_a_machines(header: str) -> None:
    assert not read(mail(header)).automatic


def test_a_web_form_that_names_the_person_in_reply_to_is_answered_to_that_person() -> None:
    """RFC 5322, 3.6.2: answers go to Reply-To."""
    found = read(mail("Reply-To: Dana <dana@example.org>", sender="no-reply@forms.example.net"))
    assert (found.sender, found.automatic) == ("dana@example.org", False)


@pytest.mark.parametrize(
    ("headers", "sender", "name"),
    [
        (b'From: "Dana Q. Example" <dana@site.example>\r\nTo: <ada@x.example>', "dana@site.example", "Dana Q. Example"),
        (b"From: Dana(A nice \\) client) <dana(her account)@site.example(her host)>", "dana@site.example", "Dana"),
        (b"From: Dana <dana@site.example>\r\nTo: All:Ed <ed@x.example>;\r\nCc: None:;", "dana@site.example", "Dana"),
        (b"From: Dana\r\n <dana@site.example>\r\nSubject: folded\r\n line", "dana@site.example", "Dana"),
    ],
)
def test_the_forms_of_rfc_5322_appendix_a_are_read(headers: bytes, sender: str, name: str) -> None:
    found = read(headers + b"\r\n\r\nTesting.")
    assert (found.sender, found.sender_name, found.text) == (sender, name, "Testing.")


def samples() -> Iterator[Path]:
    try:
        import test.test_email as library
    except ImportError:
        return
    folder = Path(library.__file__).parent / "data"
    yield from sorted(folder.glob("msg_*.txt"))


SAMPLES = list(samples())
needs_samples = pytest.mark.skipif(not SAMPLES, reason="this Python build leaves out test.test_email")


@needs_samples
def test_no_sample_of_the_standard_library_breaks_the_reader() -> None:
    assert len(SAMPLES) >= 40
    without_sender = []
    for path in SAMPLES:
        try:
            found = read(path.read_bytes())
        except Unreadable:
            without_sender.append(path.name)
        else:
            assert found.provider_id, path.name
            assert "\0" not in found.text, path.name
    assert without_sender == [f"msg_{number}.txt" for number in (11, 18, 19, 37, 38, 39, 40)]


@needs_samples
@pytest.mark.parametrize("name", REPORTS)
def test_reports_among_the_samples_are_automatic(name: str) -> None:
    (path,) = (path for path in SAMPLES if path.name == name)
    assert read(path.read_bytes()).automatic


def test_parts_nested_two_hundred_deep_are_read() -> None:
    raw = mail("MIME-Version: 1.0", "Content-Type: multipart/mixed; boundary=b0", text="")
    for depth in range(200):
        inner = f"--b{depth}\r\nContent-Type: multipart/mixed; boundary=b{depth + 1}\r\n\r\n"
        raw += inner.encode()
    raw += b"--b200\r\n\r\ndeep words\r\n--b200--\r\n"
    assert read(raw).text == "deep words"


def test_parts_nested_beyond_reason_are_set_aside() -> None:
    raw = mail("MIME-Version: 1.0", "Content-Type: multipart/mixed; boundary=b0", text="")
    raw += b"".join(
        f"--b{depth}\r\nContent-Type: multipart/mixed; boundary=b{depth + 1}\r\n\r\n".encode() for depth in range(5000)
    )
    with pytest.raises(Unreadable, match="nested too deep"):
        read(raw)


def test_ten_thousand_parts_are_read() -> None:
    parts = b"--b\r\n\r\nx\r\n" * 10_000
    found = read(mail("MIME-Version: 1.0", "Content-Type: multipart/mixed; boundary=b", text="") + b"\r\n" + parts)
    assert found.text.startswith("x")


LINES = st.sampled_from(
    [
        b"From: dana@example.org",
        b"From: =?utf-8?q?D=C3=A1na?= <dana@example.org>",
        b"Reply-To: <<>>",
        b"Subject: =?x?q?=?=",
        b"Message-ID: <>",
        b"Message-ID: <[@example.org>",
        b"Content-Type: multipart/alternative; boundary=b",
        b"Content-Type: text/html; charset=\xff",
        b"Content-Type: text/plain; charset*=''",
        b"Content-Transfer-Encoding: base64",
        b"Content-Transfer-Encoding: quoted-printable",
        b"Content-Disposition: ;;filename*=x",
        b"--b",
        b"--b--",
        b"",
        b"> quoted",
        b"On 1/1 Ada wrote:",
    ]
)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.one_of(LINES, st.binary(max_size=20)), max_size=20))
def test_any_bytes_are_a_message_or_are_set_aside(lines: list[bytes]) -> None:
    try:
        found = read(b"From: dana@example.org\n" + b"\n".join(lines))
    except Unreadable:
        return
    for text in (found.text, found.whole_text or "", found.subject or "", found.sender):
        assert "\0" not in text
        assert text.encode("utf-8").decode("utf-8") == text
    assert "\n" not in (found.subject or "") + found.provider_id
