"""Reply templates: plain text with named fields in {braces}; what a client wrote is a value and never a template.

A line whose field is empty is left out. A stretch in [brackets], of any number of lines, is left out if one of its
fields is empty, so "A {piece}[ in {colours}]." needs no second version. A field that begins a sentence gets
a capital. A first line "Subject: ..." names a mail's subject.
"""

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches

_FIELD = re.compile(r"\{([a-z_]+)\}")
_OPENS_SENTENCE = re.compile(r"\{[a-z_]+\}\s*\S")  # a field that begins a sentence, not one that is a line by itself
_GAP = re.compile(r"\n{3,}")
_OPTIONAL = re.compile(r"\[([^\[\]]*)\]")
SUBJECT = "Subject: "


@dataclass(frozen=True)
class TemplateProblem:
    """One fault of a template: line, field, what is wrong, what to do."""

    line: int
    field: str
    what: str
    remedy: str


@dataclass(frozen=True)
class Template:
    """One reply template: the file it came from, and its text."""

    file: str
    text: str

    @property
    def fields(self) -> list[str]:
        """The names of its fields, in order."""
        return _FIELD.findall(self.text)


def fill(text: str, values: Mapping[str, str], *, sentences: bool = False) -> str:
    """Return ``text`` with its fields filled in one pass; unknown fields count as empty.

    With ``sentences`` a field that begins a sentence gets a capital.
    """
    # Brackets are judged before any value is put in, so a client's own brackets and braces stay as they are.
    kept = _OPTIONAL.sub(lambda found: _if_full(found[1], values), text)
    filled = "\n".join(_filled_lines(kept, values, sentences))
    return _GAP.sub("\n\n", filled).strip("\n")


def _filled_lines(text: str, values: Mapping[str, str], sentences: bool) -> Iterator[str]:
    for line in text.splitlines():
        if all(values.get(name) for name in _FIELD.findall(line)):
            filled = _FIELD.sub(lambda found: values[found[1]], line).rstrip()
            yield _capital(filled) if sentences and _OPENS_SENTENCE.match(line) else filled


def _capital(line: str) -> str:
    return line[:1].upper() + line[1:]


def _if_full(stretch: str, values: Mapping[str, str]) -> str:
    return stretch if all(values.get(name) for name in _FIELD.findall(stretch)) else ""


def one_paragraph(text: str) -> str:
    """Return the lines of ``text`` as one paragraph, as a text message is sent."""
    return " ".join(text.split())


def split_subject(text: str) -> tuple[str, str]:
    """Return the subject named in the first line, or an empty one, and the rest."""
    if not text.startswith(SUBJECT):
        return "", text
    first, _, rest = text.partition("\n")
    return first.removeprefix(SUBJECT).strip(), rest.lstrip("\n")


def problems(template: Template, known: Collection[str]) -> Iterator[TemplateProblem]:
    """Yield what is wrong in a template: unknown fields, and braces or brackets that name nothing or don't close."""
    for number, line in enumerate(_OPTIONAL.sub(r"\1", template.text).splitlines(), start=1):
        for name in _FIELD.findall(line):
            if name not in known:
                yield _unknown(number, name, known)
        stray = sorted({char for char in _FIELD.sub("", line) if char in "{}[]"})
        if stray:
            what = f"'{' '.join(stray)}' opens or closes no field"
            yield TemplateProblem(number, "", what, "write {field} in small letters, [stretch], or neither")
    if not template.text.strip():
        yield TemplateProblem(1, "", "the template is empty", "write its text or delete it")


def _unknown(line: int, name: str, known: Collection[str]) -> TemplateProblem:
    near = get_close_matches(name, known, n=1)
    hint = f"did you mean '{near[0]}'? " if near else ""
    return TemplateProblem(line, name, "this field is not known", f"{hint}known: {', '.join(sorted(known))}")
