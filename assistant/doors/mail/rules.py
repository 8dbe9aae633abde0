"""The words by which mail is read, as rules/mail.yaml gives them."""

from dataclasses import dataclass
from typing import ClassVar


@dataclass(frozen=True)
class Robots:
    """Names before the @ that no person writes from: whole, or by how they start or end; lower case."""

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}
    names: tuple[str, ...]
    starts: tuple[str, ...]
    ends: tuple[str, ...]

    def wrote(self, address: str) -> bool:
        """Tell whether an address belongs to a machine."""
        name = address.partition("@")[0].lower()
        return name in self.names or name.startswith(self.starts) or name.endswith(self.ends)


@dataclass(frozen=True)
class MailRules:
    """Which mail is from a machine, and where a person's own words end; phrases by language, in lower case."""

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}
    robots: Robots
    closings: dict[str, tuple[str, ...]]
    longest_closing: int
    devices: dict[str, tuple[str, ...]]
    postscripts: tuple[str, ...]
    history: dict[str, tuple[tuple[str, str], ...]]
    forwards: tuple[str, ...]
    longest_text: int

    def __post_init__(self) -> None:
        """Refuse a length that would leave nothing of a mail."""
        if self.longest_text < 1000:
            raise ValueError(f"longest_text {self.longest_text} is too short to hold a mail: give 1000 or more")

    def closes(self, line: str) -> bool:
        """Tell whether a line is a closing such as "Thanks so much," and not a sentence that starts so."""
        bare = line.strip().lower()
        if not bare or len(bare) > self.longest_closing or len(bare.split()) > 4 or any(map(str.isdigit, bare)):
            return False
        return any(_starts(bare, phrase) for phrases in self.closings.values() for phrase in phrases)

    def from_device(self, line: str) -> bool:
        """Tell whether a device added this line."""
        return line.strip().lower().startswith(tuple(word for words in self.devices.values() for word in words))

    def heads_history(self, line: str, after: str) -> int:
        """Return how many lines (0, 1 or 2) from ``line`` on name the sender and day of a quoted mail."""
        low, next_low = line.strip().lower(), after.strip().lower()
        for starts, ends in (pair for pairs in self.history.values() for pair in pairs):
            if low.startswith(starts) and any(map(str.isdigit, low)):
                if low.endswith(ends):
                    return 1
                if next_low.endswith(ends) and not low.endswith((".", "?", "!")):
                    return 2
        return 0

    def postscript(self, line: str) -> bool:
        """Tell whether a line starts a postscript."""
        return line.strip().lower().startswith(self.postscripts)


def _starts(line: str, phrase: str) -> bool:
    return line.startswith(phrase) and not line[len(phrase) :][:1].isalnum() and not line.endswith("?")
