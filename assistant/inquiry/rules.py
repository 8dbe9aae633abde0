"""The shape of the rules that lead a conversation: what is asked, when to hand over, what may be answered."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Literal

from assistant.inquiry.conditions import Condition
from assistant.inquiry.phrases import PhraseIndex

# The facts that `assistant read` may list under "ask"; the other questions are for a running conversation alone.
ASKABLE = ("event_date", "confirm_date", "event_time", "pieces", "size", "colours", "setting", "place")

Openness = Literal["absent", "in_doubt", "not_known", "unsized"]


@dataclass(frozen=True)
class Limits:
    """How much a client is asked: questions a text, texts with questions, times each, facts listed at most."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    per_text: int
    rounds: int
    times_each: int
    listed: int
    widest_range: int
    narrowing_weight: int

    def __post_init__(self) -> None:
        for name in ("per_text", "rounds", "times_each", "listed"):
            if not 1 <= getattr(self, name) <= 10:
                raise ValueError(f"{name} is {getattr(self, name)}: give a number from 1 to 10")
        if self.listed > 3:
            raise ValueError(f"listed is {self.listed}: give at most 3, as the reading command promises")


@dataclass(frozen=True)
class Question:
    """One question: the fact it asks for, when that fact is open, how soon it is asked, and its words by language.

    ``designer_reads`` marks an answer that no rule reads: it is asked once, and the designer is told where to look.
    ``words`` holds a wording for each round; ``narrows`` names further facts of a quote that the answer settles;
    ``assume`` is what a draft says when the client leaves it open, unless the price assumed another value
    than ``assume_value``.
    """

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    id: str
    fact: str
    open: Openness
    order: int
    why: str
    words: dict[str, list[str]]
    must: bool = False
    designer_reads: bool = False
    when: str = ""
    order_if_day_open: int | None = None
    narrows: list[str] = field(default_factory=list)
    assume: dict[str, str] = field(default_factory=dict)
    assume_value: str | bool | None = None

    def __post_init__(self) -> None:
        if not self.words or not all(self.words.values()):
            raise ValueError(f"question {self.id} has a language without words: give at least one wording for each")
        if not self.why:
            raise ValueError(f"question {self.id} says no reason: tell in 'why' what the answer decides")


@dataclass(frozen=True)
class AskingRules:
    """rules/questions.yaml: the limits, which measures give a piece its size, and the questions."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    limits: Limits
    kinds_asked: list[str]
    sizes: dict[str, list[str]]
    questions: list[Question]

    def __post_init__(self) -> None:
        ids = [question.id for question in self.questions]
        twice = sorted({name for name in ids if ids.count(name) > 1})
        if twice:
            raise ValueError(f"question {', '.join(twice)} stands twice: give each question its own id")


@dataclass(frozen=True)
class HandOver:
    """A situation for the designer: when it holds, why, and what the client is told about who answers by when.

    ``draft`` has a priced quote written for the designer beside the task, for her to change and send.
    """

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    id: str
    when: str
    reason: str
    words: dict[str, str]
    by: dict[str, str]
    draft: bool = False


@dataclass(frozen=True)
class HandOverRules:
    """rules/handover.yaml: the words that raise a flag, and the situations that go to the designer."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    flags: dict[str, dict[str, list[str]]]
    handovers: list[HandOver]


@dataclass(frozen=True)
class Answer:
    """A question clients ask and the studio's own answer; an empty answer goes to the designer."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    id: str
    asked_by: dict[str, list[str]]
    words: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class AnswerRules:
    """rules/answers.yaml: what the studio has decided to answer."""

    __pydantic_config__: ClassVar = {"extra": "forbid"}
    answers: list[Answer]


@dataclass(frozen=True)
class ConversationRules:
    """All that leads a conversation, conditions compiled: the questions, the flags, the hand-overs, the answers."""

    asking: AskingRules
    flags: tuple[str, ...]
    flag_words: PhraseIndex
    handovers: tuple[HandOver, ...]
    answers: tuple[Answer, ...]
    answer_words: PhraseIndex
    conditions: Mapping[str, Condition]
