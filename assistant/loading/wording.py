"""Builds the studio and its wording from studio, phrases and approval.yaml and the reply templates."""

from collections.abc import Iterator
from pathlib import Path

from assistant.paths import shipped
from assistant.rulebook import Rulebook, RuleFilesWrong, RuleProblem
from assistant.wording.approval import Approval
from assistant.wording.fields import FIELDS
from assistant.wording.phrases import PhraseFile
from assistant.wording.studio import Studio
from assistant.wording.template import Template, fill, problems
from assistant.wording.wording import FRAME, Wording

# Every language needs these; a file with .sms or .email before its ending is for that channel.
NEEDED = ("accept", "answer", "ask", "closed_day", "decline", "full_day", "hand_over", "help", "opt_in", "opt_out",
          "quote", "range", "too_soon", FRAME)  # fmt: skip
MAX_BYTES = 20_000


def load_studio(book: Rulebook) -> Studio:
    """Return the studio: name, zone, locale, currency, hours."""
    return book.load("studio.yaml", Studio)


def load_wording(book: Rulebook, templates_folder: Path | None = None) -> Wording:
    """Return the studio's wording; templates in ``templates_folder``/replies win over the shipped ones, file by file.

    Raises RuleFilesWrong naming every fault of rules and templates by file, line, field and remedy.
    """
    studio, approval = load_studio(book), book.load("approval.yaml", Approval)
    phrases = book.load("phrases.yaml", PhraseFile).languages
    templates = read_templates(templates_folder)
    faults = [*template_problems(templates, studio), *_phrase_problems(phrases, studio, book), *question_problems(book)]
    if faults:
        raise RuleFilesWrong(faults)
    return Wording(studio, phrases, approval, templates)


def read_templates(own: Path | None = None) -> dict[tuple[str, str], Template]:
    """Return all reply templates by language and name; those in ``own``/replies win over the shipped ones."""
    found: dict[tuple[str, str], Template] = {}
    for folder in [shipped("templates"), *([own] if own else [])]:
        for file in sorted((folder / "replies").glob("*/*.txt")):
            found[file.parent.name, file.stem] = Template(f"replies/{file.parent.name}/{file.name}", _text(file))
    return found


def template_problems(templates: dict[tuple[str, str], Template], studio: Studio) -> Iterator[RuleProblem]:
    """Yield what is wrong in the templates: faults of each, and those that are missing in a language."""
    for (_, name), template in sorted(templates.items()):
        known = {*FIELDS, "body"} if name.split(".")[0] == FRAME else set(FIELDS)
        for fault in problems(template, known):
            yield RuleProblem(template.file, fault.line, fault.field, fault.what, fault.remedy)
        if name.split(".")[0] == FRAME and "{body}" not in template.text:
            yield RuleProblem(template.file, 1, "body", "this field is missing", "write {body} where the reply stands")
    for language in studio.languages:
        for name in NEEDED:
            if (language, name) not in templates:
                file = f"replies/{language}/{name}.txt"
                yield RuleProblem(file, 1, "", "this template is missing", "write it, or take the language out")


def _phrase_problems(phrases: object, studio: Studio, book: Rulebook) -> Iterator[RuleProblem]:
    for language in studio.languages:
        if not isinstance(phrases, dict) or language not in phrases:
            line = book.source("phrases.yaml").line(("languages",))
            yield RuleProblem(
                "phrases.yaml", line, f"languages.{language}", "this language is missing", "add its words"
            )


def question_problems(book: Rulebook) -> Iterator[RuleProblem]:
    """Yield the wordings of questions that could vanish: a field unknown, or empty outside of brackets."""
    from assistant.inquiry.rules import AskingRules

    for index, question in enumerate(book.load("questions.yaml", AskingRules).questions):
        for language, wordings in question.words.items():
            for turn, text in enumerate(wordings):
                path = ("questions", index, "words", language, turn)
                place = "questions.yaml", book.source("questions.yaml").line(path), ".".join(map(str, path))
                for fault in problems(Template("", text), FIELDS):
                    yield RuleProblem(*place, f"{fault.field}: {fault.what}".lstrip(": "), fault.remedy)
                if not fill(text, {}):
                    yield RuleProblem(*place, "without its field nothing is asked", "put the field into [brackets]")


def _text(file: Path) -> str:
    name = f"replies/{file.parent.name}/{file.name}"
    if file.stat().st_size > MAX_BYTES:
        raise RuleFilesWrong([RuleProblem(name, 1, "", f"over {MAX_BYTES} bytes", "write a shorter reply")])
    try:
        return file.read_text(encoding="utf-8").replace("\r\n", "\n")
    except UnicodeDecodeError:
        raise RuleFilesWrong([RuleProblem(name, 1, "", "the file is not UTF-8", "save it as UTF-8")]) from None
