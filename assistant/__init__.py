"""A text and mail assistant for a balloon decor studio: from inquiry to approved quote."""

__version__ = "0.1.0"
