"""One YAML rule file, read safely, with the line of every key kept beside its value."""

from dataclasses import dataclass, field
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any

import yaml

from assistant.rulebook.problems import RuleFilesWrong, RuleProblem

MAX_BYTES = 2_000_000
Path_ = tuple[str | int, ...]


@dataclass(frozen=True)
class Source:
    """A rule file's plain data, and ``lines``: the line of each key path in it (first line is 1)."""

    name: str
    data: Any
    lines: dict[Path_, int] = field(repr=False)

    def line(self, path: Path_) -> int:
        """Return the line of ``path``, or of its nearest parent that stands in the file."""
        while path and path not in self.lines:
            path = path[:-1]
        return self.lines.get(path, 1)

    def where(self, path: Path_) -> str:
        """Return ``file:line`` of a key path."""
        return f"{self.name}:{self.line(path)}"


def read_source(file: Path) -> Source:
    """Read one YAML file. Numbers with a point become Decimal, so no price passes through a float.

    Raises RuleFilesWrong for anything but plain, alias-free, once-keyed YAML in UTF-8.
    """
    name = file.name
    if file.stat().st_size > MAX_BYTES:
        raise _wrong(name, 1, "", f"the file is over {MAX_BYTES} bytes", "split it or remove what is not a rule")
    try:
        text = file.read_text(encoding="utf-8")
    except UnicodeDecodeError as fault:
        raise _wrong(name, 1, "", f"the file is not UTF-8 ({fault.reason})", "save it as UTF-8") from None
    return parse_source(name, text)


def parse_source(name: str, text: str) -> Source:
    """Read YAML text that stands in the file called ``name``; see read_source."""
    loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)(text)
    try:
        _refuse_aliases(name, text)
        node = loader.get_single_node()
    except yaml.MarkedYAMLError as fault:
        mark = fault.problem_mark or fault.context_mark
        line = mark.line + 1 if mark else 1
        raise _wrong(name, line, "", f"not readable as YAML: {fault.problem}", "mend the line named") from None
    except (yaml.YAMLError, RecursionError, ValueError) as fault:
        raise _wrong(name, 1, "", f"not readable as YAML: {fault}", "mend or restore the file") from None
    finally:
        loader.dispose()
    if node is None:
        raise _wrong(name, 1, "", "the file is empty", "write its rules or delete it to use the shipped ones")
    lines: dict[Path_, int] = {}
    problems: list[RuleProblem] = []
    data = _Builder(name, lines, problems).build(node, ())
    if problems:
        raise RuleFilesWrong(problems)
    return Source(name, data, lines)


def _refuse_aliases(name: str, text: str) -> None:
    """Anchors let a few bytes grow into millions of values; rules never need them."""
    if "&" not in text and "*" not in text:
        return
    for event in yaml.parse(text, Loader=getattr(yaml, "CSafeLoader", yaml.SafeLoader)):
        anchor = getattr(event, "anchor", None)
        if anchor:
            line = event.start_mark.line + 1 if event.start_mark else 1
            raise _wrong(name, line, str(anchor), "anchors and aliases are not used in rules", "write the value out")


class _Builder:
    def __init__(self, name: str, lines: dict[Path_, int], problems: list[RuleProblem]) -> None:
        self.name, self.lines, self.problems = name, lines, problems

    def build(self, node: yaml.Node, path: Path_) -> Any:
        self.lines.setdefault(path, node.start_mark.line + 1)
        if isinstance(node, yaml.MappingNode):
            return self._mapping(node, path)
        if isinstance(node, yaml.SequenceNode):
            return [self.build(item, (*path, index)) for index, item in enumerate(node.value)]
        return self._scalar(node, path)

    def _mapping(self, node: yaml.MappingNode, path: Path_) -> dict[str, Any]:
        built: dict[str, Any] = {}
        for key_node, value_node in node.value:
            key = str(key_node.value)
            line = key_node.start_mark.line + 1
            here = (*path, key)
            if key in built:
                first = self.lines[here]
                self._problem(line, here, f"stands twice (first on line {first})", "keep one of the two")
                continue
            self.lines[here] = line
            built[key] = self.build(value_node, here)
        return built

    def _scalar(self, node: yaml.Node, path: Path_) -> Any:
        tag, text = node.tag.rsplit(":", 1)[-1], str(node.value)
        try:
            if tag == "int":
                return int(text.replace("_", ""), 0 if text.lower().startswith(("0x", "0o", "0b")) else 10)
            if tag == "float":
                value = Decimal(text.replace("_", ""))
                if not value.is_finite():
                    raise InvalidOperation
                return value
        except (ValueError, InvalidOperation):
            self._problem(node.start_mark.line + 1, path, f"'{text}' is no plain number", "write it like 12 or 0.75")
            return 0
        if tag == "bool":
            return text.lower() in ("true", "yes", "on")
        if tag == "null":
            return None
        if tag in ("str", "timestamp"):  # days stay text; whoever needs a date reads ISO form
            return text
        self._problem(node.start_mark.line + 1, path, f"the YAML tag '{node.tag}' is not used in rules", "remove it")
        return None

    def _problem(self, line: int, path: Path_, what: str, remedy: str) -> None:
        self.problems.append(RuleProblem(self.name, line, ".".join(map(str, path)), what, remedy))


def _wrong(name: str, line: int, key: str, what: str, remedy: str) -> RuleFilesWrong:
    return RuleFilesWrong([RuleProblem(name, line, key, what, remedy)])
