"""Builds the calendar's rules from calendar.yaml, in the zone of studio.yaml."""

from assistant.availability.rules import CalendarFile, CalendarRules
from assistant.loading.wording import load_studio
from assistant.rulebook import Rulebook


def load_calendar(book: Rulebook) -> CalendarRules:
    """Return the calendar's rules; raises RuleFilesWrong naming every fault by file, line, key and remedy."""
    return CalendarRules(book.load("calendar.yaml", CalendarFile), load_studio(book).tz)
