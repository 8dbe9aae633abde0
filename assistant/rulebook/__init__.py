"""Loads and checks rules/. A wrong rule is named by file, line, key and remedy; the web is not known here."""

from assistant.rulebook.book import Rulebook
from assistant.rulebook.problems import RuleFilesWrong, RuleProblem
from assistant.rulebook.source import Source

__all__ = ["RuleFilesWrong", "RuleProblem", "Rulebook", "Source"]
