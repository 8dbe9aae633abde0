"""Placeholder: reads nothing of setting yet."""

from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules

RULES = Rules()


def find(context: Context) -> list[Finding]:  # noqa: ARG001
    """Return the findings about setting."""
    return []
