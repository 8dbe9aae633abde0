"""`assistant rules check`: load every rule file and template as the rooms do, and print all that is wrong."""

import argparse
import importlib
import sys
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import Any

from assistant.rulebook import Rulebook, RuleFilesWrong, RuleProblem

Loader = Callable[[], Any]
# Each room's loader: what it loads, its module below assistant.loading, its function.
LOADERS = (
    ("words", "reading", "load_reader"),
    ("prices and pieces", "pricing", "load_price_book"),
    ("calendar", "availability", "load_calendar"),
    ("questions, hand-overs and answers", "inquiry", "load_conversation"),
    ("studio, phrases, approval and reply templates", "wording", "load_wording"),
    ("mail", "mail", "load_mail_rules"),
)


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's options."""
    parser.add_argument("what", choices=["check"], help="check: load all rules and templates and say what is wrong")
    parser.add_argument("--rules", metavar="DIR", help="a folder of rule files that win over the shipped ones")
    parser.add_argument("--templates", metavar="DIR", help="a folder that holds replies/<language>/*.txt")


def run(args: argparse.Namespace) -> int:
    """Print a line for each room and each problem; exit status 1 if there is any."""
    book = Rulebook(args.rules) if args.rules else Rulebook()
    templates = _folder(args.templates)
    status = 0
    for what, found in check(book, templates):
        print(f"{what}: {'fine' if not found else f'{len(found)} wrong'}")
        for problem in found:
            status = 1
            print(f"  {problem}")
    return status


def check(book: Rulebook, templates: Path | None = None) -> Iterator[tuple[str, list[RuleProblem]]]:
    """Yield what was loaded and what is wrong with it, room by room."""
    for what, module, name in LOADERS:
        extra = (templates,) if module == "wording" else ()
        yield what, _problems(partial(_load, module, name, book, *extra))
    yield "languages", list(_languages(book))


def _load(module: str, name: str, book: Rulebook, *extra: Any) -> Any:
    return getattr(importlib.import_module(f"assistant.loading.{module}"), name)(book, *extra)


def _problems(load: Loader) -> list[RuleProblem]:
    try:
        load()
    except RuleFilesWrong as fault:
        return list(fault.problems)
    except (ValueError, FileNotFoundError) as fault:
        what, _, remedy = str(fault).partition(": ")
        return [RuleProblem("rules", 1, "", what, remedy or "mend the file named")]
    return []


def _languages(book: Rulebook) -> Iterator[RuleProblem]:
    """Every language the studio writes needs words in each question and each hand-over."""
    from assistant.inquiry.rules import AskingRules, HandOverRules
    from assistant.loading.wording import load_studio

    try:
        languages = load_studio(book).languages
        asking, handing = book.load("questions.yaml", AskingRules), book.load("handover.yaml", HandOverRules)
    except RuleFilesWrong:
        return  # told already
    entries: list[tuple[str, str, int, Mapping[str, Any]]] = [
        *(("questions.yaml", "questions", index, entry.words) for index, entry in enumerate(asking.questions)),
        *(("handover.yaml", "handovers", index, entry.words) for index, entry in enumerate(handing.handovers)),
    ]
    for file, key, index, words in entries:
        for language in languages:
            if language not in words:
                line = book.source(file).line((key, index, "words"))
                yield RuleProblem(file, line, f"{key}.{index}.words", f"no words in '{language}'", "add them")


def _folder(name: str | None) -> Path | None:
    if name and not Path(name).is_dir():
        print(f"assistant rules: no folder at {name}; name one that holds replies/", file=sys.stderr)
        raise SystemExit(2)
    return Path(name) if name else None
