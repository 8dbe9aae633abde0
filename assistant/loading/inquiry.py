"""Builds the conversation's rules from questions, handover and answers.yaml, conditions compiled and tried."""

from collections.abc import Iterator, Mapping

from assistant.inquiry.conditions import Condition, ConditionWrong, compile_condition
from assistant.inquiry.phrases import PhraseIndex
from assistant.inquiry.rules import AnswerRules, AskingRules, ConversationRules, HandOverRules
from assistant.rulebook import Rulebook, RuleFilesWrong, RuleProblem, Source

QUESTIONS, HANDOVER, ANSWERS = "questions.yaml", "handover.yaml", "answers.yaml"
Place = tuple[Source, tuple[str | int, ...]]


def load_asking(book: Rulebook) -> AskingRules:
    """Return what `assistant read` needs to list the open facts; no condition is compiled, so it starts fast."""
    return book.load(QUESTIONS, AskingRules)


def load_conversation(book: Rulebook) -> ConversationRules:
    """Return all rules of a conversation; raises RuleFilesWrong naming every fault by file, line, key and remedy."""
    asking = load_asking(book)
    handing = book.load(HANDOVER, HandOverRules)
    answers = book.load(ANSWERS, AnswerRules)
    return ConversationRules(
        asking=asking,
        flags=tuple(handing.flags),
        flag_words=PhraseIndex({name: _all_languages(words) for name, words in handing.flags.items()}),
        handovers=tuple(handing.handovers),
        answers=tuple(answers.answers),
        answer_words=PhraseIndex({answer.id: _all_languages(answer.asked_by) for answer in answers.answers}),
        conditions=_compiled(book, asking, handing),
    )


def _all_languages(words: Mapping[str, list[str]]) -> list[str]:
    """Clients mix languages, so every language's words are looked for in every text."""
    return [word for of_language in words.values() for word in of_language]


def _compiled(book: Rulebook, asking: AskingRules, handing: HandOverRules) -> dict[str, Condition]:
    """Compile each condition once; the same text in two places is the same condition."""
    names = (tuple(handing.flags), tuple(question.id for question in asking.questions))
    conditions: dict[str, Condition] = {}
    problems: list[RuleProblem] = []
    for text, (source, path) in _conditions(book, asking, handing):
        try:
            conditions[text] = compile_condition(text, flags=names[0], questions=names[1])
        except ConditionWrong as fault:
            key = ".".join(map(str, path))
            problems.append(RuleProblem(source.name, source.line(path), key, fault.what, fault.remedy))
    if problems:
        raise RuleFilesWrong(problems)
    return conditions


def _conditions(book: Rulebook, asking: AskingRules, handing: HandOverRules) -> Iterator[tuple[str, Place]]:
    for index, question in enumerate(asking.questions):
        if question.when:
            yield question.when, (book.source(QUESTIONS), ("questions", index, "when"))
    for index, handover in enumerate(handing.handovers):
        yield handover.when, (book.source(HANDOVER), ("handovers", index, "when"))
