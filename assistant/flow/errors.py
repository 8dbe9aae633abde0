"""What can keep a decision of the designer from being carried out; the text is meant for her."""

from datetime import datetime
from typing import Any


class DecisionRefused(Exception):
    """Nothing was sent or changed; the text says why and what to do."""


class AlreadyDecided(DecisionRefused):
    """Someone was first: ``by`` approved, kept or dropped the draft at ``at``."""

    def __init__(self, by: str | None, at: datetime | None, state: str) -> None:
        self.by, self.at, self.state = by, at, state
        who = by or "someone"
        super().__init__(f"{who} was first: this draft is already {state}. Open the inquiry again to see what was sent")


class TextChanged(DecisionRefused):
    """The draft shown is no longer the draft kept, so a yes to it would send another text."""

    def __init__(self) -> None:
        super().__init__("the draft changed since you opened it: look at the new text, then send it")


class NothingToSend(DecisionRefused):
    """The text is empty, too long, or may not go to this client."""


class DayGone(DecisionRefused):
    """The day can no longer be done; ``verdict`` is what `assistant dates` prints, with what else can be offered."""

    def __init__(self, verdict: dict[str, Any], *, paid: bool = False) -> None:
        self.verdict = verdict
        others = [option["day"] for option in verdict.get("options", ()) if option["kind"] == "other_day"]
        said = f" Open for the same job: {', '.join(others)}." if others else ""
        what = "return the deposit or agree on another day" if paid else "look at the new draft"
        super().__init__(f"the day can no longer be done: {verdict['why']}{said} Nothing was sent or booked: {what}")
