"""A mail as parts and headers, however broken it is: what the library stumbles over is read in the plainest way."""

import email
import email.policy
from email.errors import MessageError
from email.header import decode_header
from email.message import EmailMessage
from email.utils import getaddresses
from typing import cast

from assistant.doors.clean import one_line

DEEPEST, MOST_PARTS = 300, 1000
_HEADER = 2000


class Unreadable(Exception):
    """The bytes are no mail that can be read or answered; the text says why."""


def parse(raw: bytes) -> EmailMessage:
    """Return the mail; raise Unreadable when its parts are nested beyond reason."""
    try:
        return email.message_from_bytes(raw, policy=email.policy.default)
    except RecursionError:
        raise Unreadable("its parts are nested too deep") from None


def header(mail: EmailMessage, name: str) -> str:
    """Return a header as one line, decoded (RFC 2047), empty when it is not there."""
    try:
        value = mail[name]
        return "" if value is None else one_line(str(value), _HEADER)
    except Exception:  # the library's header parser fails in many ways on broken headers
        return one_line(_plain(raw_header(mail, name)), _HEADER)


def raw_header(mail: EmailMessage, name: str) -> str:
    """Return a header as it stands in the mail, unparsed."""
    return next((str(value) for key, value in mail.raw_items() if key.lower() == name.lower()), "")


def names(mail: EmailMessage) -> set[str]:
    """Return the names of all headers, in lower case."""
    return {key.lower() for key, _ in mail.raw_items()}


def addresses(mail: EmailMessage, name: str) -> list[tuple[str, str]]:
    """Return (display name, address) of a header; what is no address is left out."""
    try:
        found = getaddresses([header(mail, name)])
    except Exception:
        return []
    return [(who, where) for who, where in found if _is_address(where)]


def parts(mail: EmailMessage, *, open_mails: bool = False) -> list[EmailMessage]:
    """Return the parts that hold something, in order, to a bounded depth and number; attached mails if asked for."""
    found: list[EmailMessage] = []
    heap = [(mail, 0)]
    while heap and len(found) < MOST_PARTS:
        part, depth = heap.pop()
        inner = part.get_payload()
        opened = open_mails or content_type(part) != "message/rfc822"
        if isinstance(inner, list) and opened and depth < DEEPEST:
            heap.extend((child, depth + 1) for child in reversed(cast(list[EmailMessage], inner)))
        else:
            found.append(part)
    return found


def content_type(part: EmailMessage) -> str:
    """Return a part's type in lower case; text/plain where it can't be read or is broken (RFC 2045, 5.2)."""
    try:
        named = part.get_content_type()
    except Exception:
        return "text/plain"
    broken = named.startswith("multipart/") and not isinstance(part.get_payload(), list)
    return "text/plain" if broken else named


def _plain(value: str) -> str:
    try:
        pieces = decode_header(value)
    except (MessageError, ValueError, UnicodeError):
        return value
    return "".join(_decoded(text, charset) for text, charset in pieces)


def _decoded(text: bytes | str, charset: str | None) -> str:
    if isinstance(text, str):
        return text
    try:
        return text.decode(charset or "ascii", "replace")
    except LookupError:
        return text.decode("utf-8", "replace")


def _is_address(text: str) -> bool:
    local, at, domain = text.rpartition("@")
    return bool(at and local and domain) and len(text) <= 254 and not any(c.isspace() or ord(c) < 33 for c in text)
