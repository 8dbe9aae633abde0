"""The text of a mail: plain text before HTML, decoded by what the bytes really are."""

import codecs
from email.message import EmailMessage
from typing import Any

from assistant.doors.clean import storable
from assistant.doors.mail.message import content_type, parts

# One-byte charsets decode anything; bytes that are valid UTF-8 all the same were labelled wrongly.
_ANY_BYTES = {"ascii", "iso8859-1", "iso8859-15", "cp1252"}
_BLOCKS = ("p", "div", "li", "tr", "h1", "h2", "h3", "h4", "h5", "h6", "blockquote", "table", "ul", "ol")
_QUOTES = "blockquote, .gmail_quote, .yahoo_quoted, #divRplyFwdMsg"
_MOST_BYTES = 2_000_000


def body(mail: EmailMessage) -> tuple[str, str]:
    """Return (text without quoted HTML, whole text); mails that are attached are opened when there is nothing else."""
    text = _body([part for part in parts(mail) if not _attached(part)])
    return text if text[1].strip() else _body(parts(mail, open_mails=True))


def _body(shown: list[EmailMessage]) -> tuple[str, str]:
    plain = "\n".join(_text(part) for part in shown if content_type(part) == "text/plain").strip("\n")
    if plain.strip():
        return plain, plain
    html = [_text(part) for part in shown if content_type(part) == "text/html"]
    whole = "\n".join(from_html(page, quotes=True) for page in html)
    new = "\n".join(from_html(page, quotes=False) for page in html)
    return (new if new.strip() else whole), whole


def attachments(mail: EmailMessage) -> int:
    """Return how many files a person attached, pictures within the text included."""
    return sum(_attached(part) or not content_type(part).startswith(("text/", "multipart/")) for part in parts(mail))


def from_html(page: str, *, quotes: bool) -> str:
    """Return the readable text of an HTML page, one line a block; without ``quotes``, quoted history is left out."""
    from bs4 import BeautifulSoup

    try:
        soup = BeautifulSoup(page, "html.parser")
        for tag in soup(["script", "style", "head", "title", "template"]):
            tag.decompose()
        if not quotes:
            for tag in soup.select(_QUOTES):
                tag.decompose()
        _break_lines(soup)
        text = soup.get_text()
    except RecursionError:
        return page
    lines = [" ".join(line.replace("\xa0", " ").split()) for line in text.split("\n")]
    return "\n".join(line for number, line in enumerate(lines) if line or (number and lines[number - 1])).strip()


def _break_lines(soup: Any) -> None:
    """HTML's own line ends are spaces; lines come from its blocks and breaks."""
    for string in soup.find_all(string=True):
        if "\n" in string:
            string.replace_with(string.replace("\n", " "))
    for tag in soup.find_all("br"):
        tag.replace_with("\n")
    for tag in soup.find_all(_BLOCKS):
        tag.insert_before("\n")
        tag.insert_after("\n")


def _attached(part: EmailMessage) -> bool:
    try:
        return part.get_content_disposition() == "attachment" or bool(part.get_filename())
    except Exception:
        return False


def _text(part: EmailMessage) -> str:
    try:
        data = part.get_payload(decode=True)
    except Exception:
        data = None
    if not isinstance(data, bytes):
        return storable(str(part.get_payload()) if isinstance(part.get_payload(), str) else "")
    return storable(decode(data[:_MOST_BYTES], _charset(part))).replace("\r\n", "\n").replace("\r", "\n")


def _charset(part: EmailMessage) -> str | None:
    try:
        return part.get_content_charset()
    except Exception:
        return None


def decode(data: bytes, charset: str | None) -> str:
    """Return text from bytes by the charset named, by UTF-8, or by Windows-1252, whichever fits; nothing is refused."""
    named = _known(charset)
    order = ["utf-8", named] if named is None or named in _ANY_BYTES else [named, "utf-8"]
    for name in (*order, "cp1252"):
        if name:
            try:
                return data.decode(name)
            except (UnicodeError, ValueError):
                continue
    return data.decode("latin-1")


def _known(charset: str | None) -> str | None:
    """Return Python's name of a text charset; others (and codecs that are no charsets) are as if not named."""
    try:
        found = codecs.lookup(charset) if charset else None
    except (LookupError, ValueError):
        return None
    return found.name if found is not None and found._is_text_encoding else None
