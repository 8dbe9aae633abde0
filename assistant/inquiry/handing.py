"""The words that raise a flag, the situations that go to the designer, and the questions the studio has answered."""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from assistant.inquiry.conditions import ConditionWrong
from assistant.inquiry.rules import Answer, ConversationRules, HandOver
from assistant.inquiry.situation import Situation


def flags_of(text: str, rules: ConversationRules) -> list[str]:
    """Return the flags that ``text`` raises."""
    return rules.flag_words.raised(text)


def flag_counts(situation: Situation, rules: ConversationRules) -> dict[str, int]:
    """Return in how many of the client's texts each flag was raised, 0 included."""
    found = Counter(flag for text in situation.texts for flag in flags_of(text, rules))
    return {flag: found[flag] for flag in rules.flags}


def hand_overs(values: Mapping[str, Any], rules: ConversationRules) -> list[HandOver]:
    """Return every hand-over that holds, in the order of the rules.

    One that cannot be judged counts as holding: what the rules do not know is the designer's.
    """
    return [handover for handover in rules.handovers if _holds(handover, values, rules)]


def _holds(handover: HandOver, values: Mapping[str, Any], rules: ConversationRules) -> bool:
    try:
        return rules.conditions[handover.when](values)
    except ConditionWrong:
        return True


def answers_to(text: str, rules: ConversationRules) -> list[Answer]:
    """Return the studio's entries that ``text`` asks about, answered or not."""
    found = rules.answer_words.raised(text)
    return [answer for answer in rules.answers if answer.id in found]
