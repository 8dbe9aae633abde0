"""The desk's words for the program's codes; they stand in templates/desk/words.yaml, not in code."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml


class Words:
    """A word for each code, by group; a code without a word is shown as it is, with spaces."""

    def __init__(self, groups: Mapping[str, Any]) -> None:
        self._groups = groups

    def of(self, group: str, code: Any) -> str:
        """Return the word for ``code`` in ``group``."""
        text = str(code if code is not None else "")
        found = self.group(group).get(text)
        return str(found) if found is not None else text.replace("_", " ")

    def group(self, group: str) -> Mapping[str, str]:
        """Return all words of a group by code, in the file's order."""
        found: Mapping[str, str] = self._groups.get(group) or {}
        return found


def load_words(path: Path) -> Words:
    """Read the words; raise ValueError naming the file when it is not a table of tables."""
    groups = yaml.safe_load(path.read_text(encoding="utf-8"))
    if not isinstance(groups, dict) or not all(isinstance(group, dict) for group in groups.values()):
        raise ValueError(f"{path}: not groups of words; each top key holds code: word lines")
    return Words({name: {str(code): word for code, word in group.items()} for name, group in groups.items()})
