"""A step and its figures in, a text out, from templates; text-message parts counted."""

from assistant.wording.fields import Figures
from assistant.wording.segments import segments
from assistant.wording.wording import NoTemplate, Reply, Wording

__all__ = ["Figures", "NoTemplate", "Reply", "Wording", "segments"]
