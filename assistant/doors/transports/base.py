"""What every way out promises: take a parcel or say exactly what is known about its failure.

Errors of a way out::

    SendProblem
      Refused      for good: a repeat would be refused again
      TryLater     certainly not taken: a repeat is safe
      Unsure       it may have been taken: look it up before any repeat
"""

from enum import Enum
from typing import Protocol

from assistant.store.parcels import Parcel


class SendProblem(Exception):
    """A send that did not end in a clear accept; the text is meant for the designer."""


class Refused(SendProblem):
    """The provider will never take this message. ``opted_out``: the client told the carrier to stop."""

    def __init__(self, why: str, *, opted_out: bool = False) -> None:
        super().__init__(why)
        self.opted_out = opted_out


class TryLater(SendProblem):
    """The provider did not take it now; ``after`` is the least wait in seconds that it asked for."""

    def __init__(self, why: str, *, after: float = 0.0) -> None:
        super().__init__(why)
        self.after = after


class Unsure(SendProblem):
    """Nobody knows whether the provider took it."""


class LookUp(Enum):
    """How far a way out can be asked whether it has a message already."""

    NONE = "none"  # it can't be asked
    LATE = "late"  # what it took shows after a while
    EXACT = "exact"  # what it does not show, it does not have


class Transport(Protocol):
    """One way out. ``send`` returns the provider's id; ``find`` the ids that may be this parcel's."""

    look_up: LookUp

    def send(self, parcel: Parcel) -> str:
        """Hand the parcel over; raise a SendProblem if that did not end in an accept."""
        ...

    def find(self, parcel: Parcel) -> list[str]:
        """Return ids of accepted messages that may be this parcel, best first; raise TryLater when it can't say now."""
        ...
