"""Talk: what kind of message a text is."""

from collections.abc import Sequence

from assistant.reading.context import Context
from assistant.reading.findings import Finding


def kind_of(context: Context, findings: Sequence[Finding]) -> tuple[str, str]:  # noqa: ARG001
    """Return the kind of message and why."""
    return "inquiry", "it says something about an event"
