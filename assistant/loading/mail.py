"""Loads the words by which mail is read."""

from assistant.doors.mail.rules import MailRules
from assistant.rulebook import Rulebook


def load_mail_rules(book: Rulebook) -> MailRules:
    """Return rules/mail.yaml; raises RuleFilesWrong naming every fault."""
    return book.load("mail.yaml", MailRules)
