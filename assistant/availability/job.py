"""The job being looked at, and all that is needed to look at it on any day."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal
from typing import Any

from assistant.availability.diary import Diary
from assistant.availability.needs import Needs, widened
from assistant.availability.rules import CalendarRules

Piece = Mapping[str, Any]
# The needs of the same job with every length times a share; None where that cannot be priced.
Smaller = Callable[[Decimal], Needs | None]


@dataclass(frozen=True)
class Job:
    """One job and the diary it has to fit into.

    ``start`` is when guests arrive and ``access_from`` when the place can be entered, studio time, None where not
    known. ``usual`` tells that the needs are the default job's; ``any_hour`` that it may be set up as early in the
    working day as it takes.
    """

    needs: Needs
    diary: Diary
    rules: CalendarRules
    today: date
    start: time | None = None
    zip: str = ""
    usual: bool = False
    access_from: time | None = None
    occasion: str = ""
    setting: str = ""
    pieces: Sequence[Piece] = ()
    smaller: Smaller | None = None
    any_hour: bool = False

    @property
    def planned(self) -> Needs:
        """What the calendar plans with: likely hours widened by the rules' factor, the default job's as they are."""
        return self.needs if self.usual else widened(self.needs, self.rules.file.plan_factor)
