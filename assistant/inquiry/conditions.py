"""Conditions in rule files: the open standard Common Expression Language, over a fixed set of documented names.

A condition is compiled once, its names are checked, and it is tried on specimen situations, so that a slip
in a rule file is found when the file is loaded and not when a client writes.
"""

import random
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, Protocol

LONGEST = 500
Values = Mapping[str, Any]


class ConditionWrong(ValueError):
    """A condition that cannot be used; ``what`` and ``remedy`` are for whoever wrote it."""

    def __init__(self, what: str, remedy: str) -> None:
        self.what, self.remedy = what, remedy
        super().__init__(f"{what}: {remedy}")


class Program(Protocol):
    """A compiled expression of the standard's library."""

    def execute(self, context: dict[str, Any]) -> Any:
        """Return the value of the expression for these names."""


@dataclass(frozen=True)
class Name:
    """A name that conditions may use: its type, its meaning, and how a specimen is drawn (None: by the rules)."""

    type: str
    meaning: str
    specimen: Callable[[random.Random], Any] | None = None


def _text(*choices: str) -> Callable[[random.Random], str]:
    return lambda draw: draw.choice(choices)


def _texts(*choices: str) -> Callable[[random.Random], list[str]]:
    return lambda draw: [choice for choice in choices if draw.random() < 0.5]


def _whole(low: int, high: int) -> Callable[[random.Random], int]:
    return lambda draw: draw.randint(low, high)


_FACTS = ("event_date", "event_time", "pieces", "colours", "setting", "place", "budget", "name", "strike")
_PIECES = ("garland", "arch", "column", "wall", "hoop", "bouquet", "centerpiece", "ceiling", "marquee", "drop")

NAMES: Mapping[str, Name] = {
    "kind": Name("text", "kind of the last message, such as inquiry or person", _text("inquiry", "person", "question")),
    "channel": Name("text", "sms, email or paste", _text("sms", "email", "paste")),
    "language": Name("text", "the client's language, such as en; empty when unsure", _text("en", "es", "")),
    "state": Name("text", "the inquiry's state, such as open or quoted", _text("open", "asking", "quoted", "booked")),
    "known": Name("list of texts", "names of the facts that are known", _texts(*_FACTS)),
    "unclear": Name("list of texts", "names of the facts that are in doubt", _texts(*_FACTS)),
    "pieces": Name("list of texts", "the kinds of piece, one a line of the sheet", _texts(*_PIECES)),
    "occasion": Name("text", "the occasion, or empty", _text("", "birthday", "wedding", "school")),
    "setting": Name("text", "indoor, outdoor, covered, or empty", _text("", "indoor", "outdoor", "covered")),
    "days_ahead": Name("whole number", "days from today to the event; 9999 without a date", _whole(-2, 400)),
    "rounds": Name("whole number", "texts with questions sent so far", _whole(0, 4)),
    "misread": Name(
        "whole number", "the most often a question was asked that must be answered and is not", _whole(0, 3)
    ),
    "missing": Name(
        "list of texts", "questions that must be answered, are not, and have no assumption", _texts("place")
    ),
    "flags": Name("list of texts", "flags raised by the last text, named in handover.yaml"),
    "counts": Name("map of whole numbers", "how many of the client's texts raised each flag"),
    "asked": Name("map of whole numbers", "how often each question was asked"),
    "verdict": Name("text", "the calendar's verdict, or empty", _text("", "open", "tight", "full", "too_soon")),
    "price": Name("whole number", "the likely price in whole currency units; 0 without one", _whole(0, 3000)),
    "budget": Name("whole number", "the budget's upper end; 0 without one", _whole(0, 3000)),
    "files": Name("whole number", "photos or files that came with the last message", _whole(0, 2)),
}


@dataclass(frozen=True)
class Condition:
    """A compiled condition; calling it with the named values tells whether it holds."""

    text: str
    program: Program

    def __call__(self, values: Values) -> bool:
        """Return whether the condition holds; raises ConditionWrong when these values cannot be judged."""
        return _judge(self.program, self.text, values)


def compile_condition(text: str, *, flags: tuple[str, ...] = (), questions: tuple[str, ...] = ()) -> Condition:
    """Compile ``text`` and try it on specimens; raises ConditionWrong with a remedy when it is unsound.

    ``flags`` and ``questions`` are the keys that the maps ``counts`` and ``asked`` hold.
    """
    if len(text) > LONGEST:
        raise ConditionWrong(f"a condition of {len(text)} characters", f"give at most {LONGEST}, or two conditions")
    import cel  # loaded here: it takes longer to import than reading a message takes

    try:
        program = cel.compile(text)
    except ValueError as fault:
        raise ConditionWrong(f"'{text}' is no condition ({_first_error(str(fault))})", _EXAMPLE) from None
    _check_names(text, program.variables())
    _check_flags(text, flags)
    for values in specimens(flags, questions):
        _judge(program, text, values)
    return Condition(text, program)


def specimens(flags: tuple[str, ...], questions: tuple[str, ...], many: int = 64) -> list[dict[str, Any]]:
    """Return made-up situations, always the same ones, in which a condition is tried."""
    draw = random.Random(19)  # fixed: the same rule file must always be judged alike
    drawn = []
    for _ in range(many):
        values = {name: known.specimen(draw) for name, known in NAMES.items() if known.specimen}
        values["flags"] = [flag for flag in flags if draw.random() < 0.5]
        values["counts"] = {flag: draw.randint(0, 3) for flag in flags}
        values["asked"] = {question: draw.randint(0, 3) for question in questions}
        drawn.append(values)
    return drawn


_EXAMPLE = 'write it like days_ahead < 3 && !("place" in known)'


def _check_names(text: str, used: list[str]) -> None:
    for name in used:
        if name in NAMES or f"({name}," in text.replace(" ", ""):  # a name bound by exists(x, ...) and its kin
            continue
        near = get_close_matches(name, NAMES, n=1)
        hint = f"did you mean '{near[0]}'? " if near else ""
        raise ConditionWrong(f"the name '{name}' is not known in '{text}'", f"{hint}known: {', '.join(NAMES)}")


_TESTED_FLAG = re.compile(r"""["']([^"']+)["']\s+in\s+flags""")  # "upset" in flags


def _check_flags(text: str, flags: tuple[str, ...]) -> None:
    for flag in _TESTED_FLAG.findall(text):
        if flag not in flags:
            near = get_close_matches(flag, flags, n=1)
            hint = f"did you mean '{near[0]}'? " if near else ""
            raise ConditionWrong(f"the flag '{flag}' is not known in '{text}'", f"{hint}known: {', '.join(flags)}")


def _judge(program: Program, text: str, values: Values) -> bool:
    try:
        held = program.execute(dict(values))
    except (RuntimeError, TypeError, ValueError, KeyError) as fault:
        raise ConditionWrong(f"'{text}' cannot be worked out ({_first_sentence(fault)})", _EXAMPLE) from None
    if not isinstance(held, bool):
        raise ConditionWrong(f"'{text}' gives {held!r:.40}, not true or false", _EXAMPLE)
    return held


def _first_error(text: str) -> str:
    """The library prints the place and a drawing; the place and the words are enough on one line."""
    return text.partition("<input>:")[2].partition("\n")[0] or text.partition("\n")[0]


def _first_sentence(fault: Exception) -> str:
    return str(fault).partition(". ")[0]
