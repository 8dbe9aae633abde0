"""A clock that starts on the demo's morning and then runs like any other."""

import time
from datetime import datetime, timedelta


class DemoClock:
    """Gives the demo's present; ``advance`` jumps ahead as if time had passed between two messages."""

    def __init__(self, start: datetime) -> None:
        self._start, self._began = start, time.monotonic()

    def __call__(self) -> datetime:
        return self._start + timedelta(seconds=time.monotonic() - self._began)

    def advance(self, seconds: float) -> None:
        """Let time pass."""
        self._start += timedelta(seconds=seconds)
