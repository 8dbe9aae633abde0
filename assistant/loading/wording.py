"""Builds the studio and its wording from studio.yaml, approval.yaml, phrases.yaml and the reply templates."""

from assistant.rulebook import Rulebook
from assistant.wording.studio import Studio


def load_studio(book: Rulebook) -> Studio:
    """Return the studio: name, zone, locale, currency, hours, deposit."""
    return book.load("studio.yaml", Studio)
