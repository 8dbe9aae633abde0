"""Joins the rooms: one inbound message, one transaction; one yes of the designer, one transaction."""

from assistant.flow.errors import AlreadyDecided, DayGone, NothingToSend, TextChanged
from assistant.flow.flow import Flow, Receipt

__all__ = ["AlreadyDecided", "DayGone", "Flow", "NothingToSend", "Receipt", "TextChanged"]
