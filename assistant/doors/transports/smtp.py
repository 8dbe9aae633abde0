"""Mail out, by SMTP (RFC 5321): one server, checked certificates, a Message-ID of ours that never changes."""

import smtplib
import ssl
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from email.message import EmailMessage
from email.policy import SMTP
from email.utils import format_datetime

from assistant.doors.transports.base import LookUp, Refused, TryLater, Unsure
from assistant.store.parcels import Parcel, fingerprint

TIMEOUT = 10.0
HEADERS = ("In-Reply-To", "References")


class Smtp:
    """Hands mail to one server. There is no way to ask it later what it took."""

    look_up = LookUp.NONE

    def __init__(
        self,
        host: str,
        port: int,
        *,
        tls: str = "starttls",
        user: str | None = None,
        password: str | None = None,
        certificates: ssl.SSLContext | None = None,
    ) -> None:
        """``tls`` is starttls, ssl or none; ``certificates`` stands in for the system's list of authorities."""
        self._place, self._tls = (host, port), tls
        self._login = (user, password) if user and password else None
        self._context = certificates or ssl.create_default_context()

    def send(self, parcel: Parcel) -> str:
        """Send one mail and return its Message-ID."""
        mail = compose(parcel)
        with self._connection() as server:
            _hand_over(server, mail, parcel)
        return str(mail["Message-ID"])

    def find(self, parcel: Parcel) -> list[str]:  # noqa: ARG002 - the same for every way out
        """Return nothing: SMTP has no look-up."""
        return []

    @contextmanager
    def _connection(self) -> Iterator[smtplib.SMTP]:
        try:
            server = self._open()
        except (OSError, smtplib.SMTPException) as problem:
            raise TryLater(f"the mail server could not be reached ({_words(problem)})") from problem
        try:
            yield server
        finally:
            with suppress(OSError, smtplib.SMTPException):
                server.quit()  # the mail is handed over or refused; how we part does not matter

    def _open(self) -> smtplib.SMTP:
        host, port = self._place
        if self._tls == "ssl":
            server: smtplib.SMTP = smtplib.SMTP_SSL(host, port, timeout=TIMEOUT, context=self._context)
        else:
            server = smtplib.SMTP(host, port, timeout=TIMEOUT)
        try:
            if self._tls == "starttls":
                server.starttls(context=self._context)
            if self._login:
                server.login(*self._login)
        except BaseException:
            server.close()
            raise
        return server


def compose(parcel: Parcel) -> EmailMessage:
    """Return the mail of a parcel; raise Refused when a header would break out of its line (RFC 5322, 2.2)."""
    mail = EmailMessage(policy=SMTP)
    try:
        mail["From"], mail["To"] = parcel.sender, parcel.recipient
        mail["Subject"] = parcel.subject or "Your balloon decor inquiry"
        mail["Date"] = format_datetime(parcel.created_at)
        mail["Message-ID"] = message_id(parcel)
        for name in HEADERS:
            if parcel.headers.get(name):
                mail[name] = str(parcel.headers[name])
        if parcel.automatic:
            mail["Auto-Submitted"] = "auto-replied"  # RFC 3834, 5
        mail.set_content(parcel.text)
    except (ValueError, UnicodeError) as problem:
        raise Refused("a mail header holds a line break or an unusable character; write it again") from problem
    return mail


def message_id(parcel: Parcel) -> str:
    """Return the same Message-ID whenever this message is sent, so that a repeat can be recognised."""
    domain = parcel.sender.rpartition("@")[2].strip("> ") or "localhost"
    return f"<{parcel.id}.{fingerprint(parcel.subject, parcel.text)[:16]}@{domain}>"


def _hand_over(server: smtplib.SMTP, mail: EmailMessage, parcel: Parcel) -> None:
    try:
        server.send_message(mail, from_addr=_bare(parcel.sender), to_addrs=[parcel.recipient])
    except smtplib.SMTPRecipientsRefused as problem:
        code, answer = next(iter(problem.recipients.values()))
        raise _answered(code, answer) from problem
    except smtplib.SMTPResponseException as problem:
        raise _answered(problem.smtp_code, problem.smtp_error) from problem
    except (smtplib.SMTPNotSupportedError, UnicodeError) as problem:
        raise Refused("the mail server can't write to this address") from problem
    except (OSError, smtplib.SMTPException) as problem:
        raise Unsure(f"the connection to the mail server broke off ({_words(problem)})") from problem


def _answered(code: int, answer: bytes | str) -> Refused | TryLater:
    """Replies of the 4yz kind pass, those of the 5yz kind stay (RFC 5321, 4.2.1)."""
    words = answer.decode("utf-8", "replace") if isinstance(answer, bytes) else answer
    said = f"the mail server said {code} {words[:200]}"
    return TryLater(said) if 400 <= code < 500 else Refused(said)


def _bare(address: str) -> str:
    return address[address.rfind("<") + 1 :].rstrip("> ") if "<" in address else address


def _words(problem: Exception) -> str:
    return type(problem).__name__ if not isinstance(problem, OSError) else (problem.strerror or type(problem).__name__)
