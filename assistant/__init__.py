"""A text and mail assistant for a balloon decor studio: reads inquiries, checks the day, prices the job, drafts the reply."""

__version__ = "0.1.0"
