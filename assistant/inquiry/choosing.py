"""Which questions are open in a conversation, which may be assumed, and which to put next."""

from collections.abc import Mapping, Set
from dataclasses import dataclass, field
from typing import Any

from assistant.inquiry.asking import is_open, urgency
from assistant.inquiry.rules import ConversationRules, Question
from assistant.inquiry.situation import Situation

Values = Mapping[str, Any]


@dataclass(frozen=True)
class Asked:
    """A question to put now: why, and its wording by language."""

    id: str
    why: str
    words: Mapping[str, str]


@dataclass(frozen=True)
class Assumption:
    """What a draft takes for granted because nobody said it, by language."""

    id: str
    words: Mapping[str, str] = field(default_factory=dict)


def open_questions(situation: Situation, rules: ConversationRules, values: Values) -> list[Question]:
    """Return the questions whose fact is open and whose condition holds, the most urgent first."""
    found = [
        question
        for question in rules.asking.questions
        if is_open(question, situation.facts, rules.asking) and _applies(question, rules, values)
    ]
    weight = rules.asking.limits.narrowing_weight
    return sorted(found, key=lambda q: urgency(q, situation.facts) - weight * narrowing(q, situation.quote))


def _applies(question: Question, rules: ConversationRules, values: Values) -> bool:
    return not question.when or rules.conditions[question.when](values)


def narrowing(question: Question, quote: Mapping[str, Any] | None) -> float:
    """Return which share of the quote's width the answer would take away, 0 to 1."""
    facts = {question.fact, question.id, *question.narrows}
    shares = [
        1 - entry["width_if_known"] / entry["width_now"]
        for entry in (quote or {}).get("narrowing", ())
        if entry["fact"] in facts and entry["width_now"] > 0
    ]
    return max(0.0, min(1.0, max(shares, default=0.0)))


def is_assumed(question: Question, situation: Situation, rules: ConversationRules, unsure_of: Set[str]) -> bool:
    """Tell whether an assumption stands in for the answer: asked often enough, or answered with "not sure"."""
    if not question.assume:
        return False
    return _asked_enough(question, situation, rules) or question.id in unsure_of


def may_ask(question: Question, situation: Situation, rules: ConversationRules, unsure_of: Set[str]) -> bool:
    """Tell whether the question may still be put: not too often, and not answered with "not sure"."""
    if _asked_enough(question, situation, rules):
        return False
    if question.id in unsure_of and not question.must:
        return False
    return not is_assumed(question, situation, rules, unsure_of)


def _asked_enough(question: Question, situation: Situation, rules: ConversationRules) -> bool:
    most = 1 if question.designer_reads else rules.asking.limits.times_each
    return situation.asked.get(question.id, 0) >= most


def for_the_designer(questions: list[Question], situation: Situation, unsure_of: Set[str]) -> list[Question]:
    """Return the questions that were put and whose answers no rule reads; they stand in the conversation."""
    return [q for q in questions if q.designer_reads and situation.asked.get(q.id, 0) and q.id not in unsure_of]


def left_open(questions: list[Question], situation: Situation, *, unsure: bool) -> frozenset[str]:
    """Return the open questions to which the client has answered "not sure", now or before."""
    now = situation.last_asked if unsure else ()
    return frozenset(question.id for question in questions if question.id in (*situation.left_open, *now))


def to_ask(question: Question, situation: Situation) -> Asked:
    """Return the question in the wording of its turn: the first time the first one, and so on."""
    turn = situation.asked.get(question.id, 0)
    return Asked(
        question.id, question.why, {lang: words[min(turn, len(words) - 1)] for lang, words in question.words.items()}
    )


def assumptions(questions: list[Question], quote: Mapping[str, Any] | None) -> tuple[Assumption, ...]:
    """Return what a draft says about the open questions; nothing that the price was not made with."""
    return tuple(
        Assumption(question.id, question.assume)
        for question in questions
        if question.assume and _priced_so(question, quote)
    )


def _priced_so(question: Question, quote: Mapping[str, Any] | None) -> bool:
    if question.assume_value is None:
        return True
    values = [entry["value"] for entry in (quote or {}).get("assumed", ()) if entry["fact"] == question.fact]
    return all(value == question.assume_value for value in values)
