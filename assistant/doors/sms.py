"""Text messages in: the provider's signature, its form fields, and one message made of them.

https://www.twilio.com/docs/usage/security and https://www.twilio.com/docs/messaging/guides/webhook-request
"""

from collections.abc import Iterable
from datetime import datetime

from werkzeug.datastructures import MultiDict

from assistant.doors.clean import one_line, storable
from assistant.doors.inbound import Inbound
from assistant.doors.phone import e164

LONGEST = 4000
NEEDED = ("MessageSid", "From", "To", "Body")


class FieldMissing(ValueError):
    """The form lacks a field; the text names it."""


def is_signed(token: str, url: str, form: MultiDict[str, str], signature: str) -> bool:
    """Tell whether the provider signed this address with exactly these fields.

    The signature does not count how often the same value was sent, so a repeated pair proves a change on the way.
    """
    from twilio.request_validator import RequestValidator

    pairs = list(form.items(multi=True))
    if len(set(pairs)) != len(pairs):
        return False
    try:
        return bool(signature) and bool(RequestValidator(token).validate(url, form, signature))
    except (ValueError, UnicodeError):
        return False


def read_sms(form: MultiDict[str, str], raw: bytes, now: datetime) -> Inbound:
    """Return the text as one message; raise FieldMissing naming what the form lacks.

    The whole form is kept where the text alone would lose something: cut, mended, or sent with pictures.
    """
    _require(form, NEEDED)
    whole = form["Body"]
    text = storable(whole)[:LONGEST]
    pictures = form.get("NumMedia", "0")
    notes = list(_notes(text, whole, pictures))
    return Inbound(
        channel="sms",
        provider_id=one_line(form["MessageSid"], 500),
        sender=e164(form["From"]),
        recipient=e164(form["To"]),
        text=text,
        received_at=now,
        whole_text=storable(whole) if len(whole) > LONGEST else None,
        raw=raw if notes else None,
        note="; ".join(notes) or None,
    )


def status_of(form: MultiDict[str, str]) -> tuple[str, str, str | None]:
    """Return (message id, status, error code) of a report; raise FieldMissing naming what it lacks."""
    _require(form, ("MessageSid", "MessageStatus"))
    return form["MessageSid"], form["MessageStatus"].lower(), one_line(form.get("ErrorCode", ""), 20) or None


def _require(form: MultiDict[str, str], needed: tuple[str, ...]) -> None:
    for name in needed:
        if name not in form or (name != "Body" and not form[name].strip()):
            raise FieldMissing(f"The field {name} is missing")


def _notes(text: str, whole: str, pictures: str) -> Iterable[str]:
    count = int(pictures) if pictures.isascii() and pictures.isdigit() and len(pictures) < 3 else 0
    if count:
        yield "sent 1 photo" if count == 1 else f"sent {count} photos"
    if len(whole) > LONGEST:
        yield f"the text is long: its first {LONGEST} characters were read"
    if text != whole[:LONGEST]:
        yield "it held characters that can't be kept; the bytes are stored beside it"
