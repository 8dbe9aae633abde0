"""Mail from machines, which must never be answered automatically (RFC 3834, section 2)."""

from email.message import EmailMessage

from assistant.doors.mail.message import addresses, content_type, header, names, raw_header
from assistant.doors.mail.rules import MailRules

_SUPPRESS = {"all", "oof", "autoreply"}
_BULK = {"bulk", "list", "junk", "auto_reply"}


def is_automatic(mail: EmailMessage, sender: str, rules: MailRules) -> bool:
    """Tell whether a machine sent this mail, by any of the common signs."""
    return (
        header(mail, "Auto-Submitted").partition(";")[0].strip().lower() not in ("", "no")
        or any(name.startswith("list-") for name in names(mail))
        or header(mail, "Precedence").lower() in _BULK
        or _empty_return_path(mail)
        or bool(_SUPPRESS & {word.strip().lower() for word in header(mail, "X-Auto-Response-Suppress").split(",")})
        or content_type(mail) in ("multipart/report", "message/delivery-status")
        or raw_header(mail, "Content-Type").strip().lower().startswith("multipart/report")
        or any(rules.robots.wrote(address) for address in [sender, *_others(mail)])
    )


def _empty_return_path(mail: EmailMessage) -> bool:
    """Bounces come from the empty sender (RFC 5321, 4.5.5)."""
    return "return-path" in names(mail) and raw_header(mail, "Return-Path").strip() in ("<>", "")


def _others(mail: EmailMessage) -> list[str]:
    """Return who else sent it; a form on a web page writes for a person, whom Reply-To names."""
    if addresses(mail, "Reply-To"):
        return []
    return [address for name in ("From", "Sender") for _, address in addresses(mail, name)]
