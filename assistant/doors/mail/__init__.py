"""Mail in: raw bytes to one message, whatever state they are in."""

from assistant.doors.mail.message import Unreadable
from assistant.doors.mail.read import read_mail
from assistant.doors.mail.rules import MailRules

__all__ = ["MailRules", "Unreadable", "read_mail"]
