"""Joins the rooms: one inbound message, one transaction; one yes of the designer, one transaction."""

from assistant.flow.errors import AlreadyDecided, NothingToSend, TextChanged
from assistant.flow.flow import Flow, Receipt

__all__ = ["AlreadyDecided", "Flow", "NothingToSend", "Receipt", "TextChanged"]
