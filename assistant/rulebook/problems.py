"""What is wrong in the rule files, each fault with its place and its remedy."""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class RuleProblem:
    """One fault: the file, the line, the dotted key, what is wrong and what to do."""

    file: str
    line: int
    key: str
    what: str
    remedy: str

    def __str__(self) -> str:
        key = f" {self.key}:" if self.key else ""
        return f"{self.file}, line {self.line}:{key} {self.what} - {self.remedy}"


class RuleFilesWrong(ValueError):
    """All faults found in one go; its text is one line for each."""

    def __init__(self, problems: Sequence[RuleProblem]) -> None:
        self.problems = tuple(problems)
        super().__init__("\n".join(map(str, self.problems)))
