"""The studio's rules as checked values: its own files win over the shipped ones, file by file.

A rule file is checked against a frozen dataclass that the room using it defines (with
``__pydantic_config__ = {"extra": "forbid"}``), so the pure rooms need neither YAML nor a checker.
"""

import dataclasses
import difflib
import hashlib
import types
import typing
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, TypeVar

from pydantic import TypeAdapter, ValidationError

from assistant.paths import shipped
from assistant.rulebook.problems import RuleFilesWrong, RuleProblem
from assistant.rulebook.source import Source, read_source

Shape = TypeVar("Shape")


class Rulebook:
    """Rule files of one or more folders; a file is looked for in each folder in turn, the shipped folder last."""

    def __init__(self, *folders: Path | str, with_shipped: bool = True) -> None:
        self.folders = [Path(folder) for folder in folders]
        for folder in self.folders:
            if not folder.is_dir():
                raise FileNotFoundError(f"no rule folder at {folder}; name a folder that holds rule files")
        if with_shipped:
            self.folders.append(shipped("rules"))
        self._sources: dict[str, Source] = {}

    def path(self, name: str) -> Path:
        """Return the file that holds rule file ``name`` (such as ``prices.yaml`` or ``words/en/dates.yaml``)."""
        for folder in self.folders:
            if (folder / name).is_file():
                return folder / name
        raise FileNotFoundError(f"no rule file {name} in {', '.join(str(f) for f in self.folders)}")

    def source(self, name: str) -> Source:
        """Return the plain data of a rule file with its lines; read once."""
        if name not in self._sources:
            read = read_source(self.path(name))
            self._sources[name] = Source(name, read.data, read.lines)
        return self._sources[name]

    def load(self, name: str, shape: type[Shape]) -> Shape:
        """Return rule file ``name`` as ``shape``.

        Raises RuleFilesWrong naming every fault by file, line, key and remedy.
        """
        source = self.source(name)
        try:
            return typing.cast(Shape, _adapter(typing.cast(Any, shape)).validate_python(source.data))
        except ValidationError as fault:
            raise RuleFilesWrong(list(_problems(source, shape, fault))) from None

    def folder(self, name: str) -> list[str]:
        """Return the names of the rule files below folder ``name``, the studio's own and the shipped ones, sorted."""
        found = {
            file.relative_to(folder).as_posix()
            for folder in self.folders
            for file in (folder / name).rglob("*.yaml")
            if file.is_file()
        }
        return sorted(found)

    def version(self, *names: str) -> str:
        """Return a short fingerprint of the named files' bytes, kept with each quote."""
        digest = hashlib.sha256()
        for name in names:
            digest.update(name.encode() + b"\0" + self.path(name).read_bytes() + b"\0")
        return digest.hexdigest()[:12]


@cache
def _adapter(shape: type[Any]) -> TypeAdapter[Any]:
    return TypeAdapter(shape)


def _problems(source: Source, shape: type[Any], fault: ValidationError) -> Iterable[RuleProblem]:
    for error in fault.errors(include_url=False):
        path = tuple(part for part in error["loc"] if not _is_union_tag(part, source, error["loc"]))
        key = ".".join(map(str, path))
        what, remedy = _words(error, _allowed(shape, path[:-1]))
        yield RuleProblem(source.name, source.line(path), key, what, remedy)


def _is_union_tag(part: str | int, source: Source, loc: tuple[str | int, ...]) -> bool:
    """Pydantic puts the name of a union's member into the path; it is not a key of the file."""
    index = loc.index(part)
    return isinstance(part, str) and index > 0 and loc[: index + 1] not in source.lines and index != len(loc) - 1


def _words(error: Any, allowed: list[str]) -> tuple[str, str]:
    kind = error["type"]
    if kind == "unexpected_keyword_argument":
        key = str(error["loc"][-1])
        near = difflib.get_close_matches(key, allowed, n=1)
        hint = f"did you mean '{near[0]}'? " if near else ""
        return "this key is not known", f"{hint}known here: {', '.join(allowed) or 'none'}"
    if kind == "missing" or kind == "missing_argument":
        return "this key is missing", "add it"
    if kind == "value_error":
        text = str(error["ctx"]["error"])
        what, _, remedy = text.partition(": ")
        return (what, remedy) if remedy else (text, "mend the value")
    return f"{error['msg']} (it is {error['input']!r:.60})", _remedy(kind, error.get("ctx", {}))


REMEDIES = {
    "greater_than": "give more than {gt}",
    "greater_than_equal": "give {ge} or more",
    "less_than": "give less than {lt}",
    "less_than_equal": "give {le} or less",
    "too_short": "give at least {min_length}",
    "too_long": "give at most {max_length}",
    "string_too_short": "write at least {min_length} characters",
    "string_too_long": "write at most {max_length} characters",
    "literal_error": "write {expected}",
    "decimal_type": "give a number such as 12 or 0.75",
    "decimal_parsing": "give a number such as 12 or 0.75",
    "int_type": "give a whole number",
    "int_parsing": "give a whole number",
    "int_from_float": "give a whole number",
    "string_type": "write a word; put figures in quotes",
    "bool_type": "write true or false",
    "bool_parsing": "write true or false",
    "list_type": "write a list: [...]",
    "dict_type": "write keys with values below it",
    "dataclass_type": "write its keys below it",
    "date_type": "write it like 2027-03-01",
    "date_parsing": "write it like 2027-03-01",
    "date_from_datetime_parsing": "write it like 2027-03-01",
}


def _remedy(kind: str, limits: Mapping[str, Any]) -> str:
    """Return what to do about a fault of this kind."""
    return REMEDIES.get(kind, "mend the value").format(**limits)


def _allowed(shape: Any, path: tuple[str | int, ...]) -> list[str]:
    """Return the keys known at ``path`` of ``shape``, by walking its dataclass fields."""
    for part in path:
        shape = _inside(shape, part)
    shape = _bare(shape)
    return [f.name for f in dataclasses.fields(shape)] if dataclasses.is_dataclass(shape) else []


def _inside(shape: Any, part: str | int) -> Any:
    shape = _bare(shape)
    if dataclasses.is_dataclass(shape):
        return typing.get_type_hints(shape, include_extras=True).get(str(part))
    args = typing.get_args(shape)
    return args[-1] if args and args[-1] is not Ellipsis else (args[0] if args else None)


def _bare(shape: Any) -> Any:
    """Strip Annotated and Optional from a type."""
    if typing.get_origin(shape) is typing.Annotated:
        return _bare(typing.get_args(shape)[0])
    if typing.get_origin(shape) in (typing.Union, types.UnionType):
        return _bare(next(arg for arg in typing.get_args(shape) if arg is not type(None)))
    return shape
