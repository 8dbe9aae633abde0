"""One raw mail (RFC 5322) in, one Inbound out."""

import hashlib
from datetime import datetime
from email.message import EmailMessage

from assistant.doors.clean import one_line
from assistant.doors.inbound import Inbound
from assistant.doors.mail.body import attachments, body
from assistant.doors.mail.message import Unreadable, addresses, header, parse
from assistant.doors.mail.robots import is_automatic
from assistant.doors.mail.rules import MailRules
from assistant.doors.mail.words import own_words

_LONGEST_ID, _MOST_THREAD_IDS = 400, 50


def read_mail(raw: bytes, rules: MailRules, *, own_address: str | None, now: datetime) -> Inbound:
    """Return the mail as one message; its whole text and its bytes ride along.

    Answers go to Reply-To where it is given (RFC 5322, 3.6.2), so that address counts as the sender.
    Raises Unreadable when it names no sender or can't be parsed at all.
    """
    mail = parse(raw)
    name, sender = _sender(mail, rules)
    text, whole = body(mail)
    subject = one_line(header(mail, "Subject"), 500)
    forwarded = subject.lower().startswith(rules.forwards)
    words = text.strip()[: rules.longest_text] if forwarded else own_words(text, rules)
    return Inbound(
        channel="email",
        provider_id=message_id(mail, raw),
        sender=sender.lower(),
        recipient=(own_address or _recipient(mail)).lower(),
        text=words,
        received_at=now,
        subject=subject or None,
        sender_name=one_line(name, 200) or None,
        whole_text=whole,
        automatic=is_automatic(mail, sender, rules) or _is_ours(mail, sender, own_address),
        thread_ids=_thread_ids(mail),
        raw=raw,
        note=_note(mail, words, text, rules),
    )


def _is_ours(mail: EmailMessage, sender: str, own_address: str | None) -> bool:
    """Our own mail that comes back in is no client's, and answering it would go round in circles."""
    writers = {sender.lower(), *(address.lower() for _, address in addresses(mail, "From"))}
    return own_address is not None and own_address.lower() in writers and not addresses(mail, "Reply-To")


def _sender(mail: EmailMessage, rules: MailRules) -> tuple[str, str]:
    """Return name and address to answer to; reports of machines may come without one."""
    named = addresses(mail, "Reply-To") or addresses(mail, "From")
    if not named and is_automatic(mail, "", rules):
        return "", "unnamed sender"
    if not named:
        raise Unreadable("it names no sender")
    return named[0]


def message_id(mail: EmailMessage, raw: bytes) -> str:
    """Return the Message-ID, or a hash of the bytes for a mail without a usable one."""
    named = header(mail, "Message-ID")
    if named.startswith("<") and named.endswith(">") and len(named) <= _LONGEST_ID and " " not in named:
        return named
    return f"sha256:{hashlib.sha256(raw).hexdigest()}"


def _thread_ids(mail: EmailMessage) -> tuple[str, ...]:
    found = f"{header(mail, 'In-Reply-To')} {header(mail, 'References')}".replace("><", "> <").split()
    usable = [one for one in found if one.startswith("<") and one.endswith(">") and len(one) <= _LONGEST_ID]
    return tuple(dict.fromkeys(usable))[:_MOST_THREAD_IDS]


def _recipient(mail: EmailMessage) -> str:
    return next((address for name in ("Delivered-To", "To", "Cc") for _, address in addresses(mail, name)), "studio")


def _note(mail: EmailMessage, words: str, text: str, rules: MailRules) -> str | None:
    notes: list[str] = []
    count = attachments(mail)
    if count:
        notes.append("sent 1 file" if count == 1 else f"sent {count} files")
    if len(words) == rules.longest_text and len(text) > rules.longest_text:
        notes.append(f"the mail is long: its first {rules.longest_text} characters were read")
    return "; ".join(notes) or None
