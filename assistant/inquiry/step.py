"""What to do next in a conversation: ask, draft, hand over, confirm, or keep silent."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Literal

from assistant.inquiry.choosing import (
    Asked,
    Assumption,
    assumptions,
    for_the_designer,
    is_assumed,
    left_open,
    may_ask,
    narrowing,
    open_questions,
    to_ask,
)
from assistant.inquiry.handing import answers_to, flag_counts, flags_of, hand_overs
from assistant.inquiry.known import is_known, value_of
from assistant.inquiry.rules import Answer, ConversationRules, HandOver, Question
from assistant.inquiry.situation import Situation, named_values

StepKind = Literal["ask", "answer", "draft", "hand_over", "opt_out", "opt_in", "help", "accept", "decline", "silent"]
QUOTED = ("quoted", "accepted")
LONGEST_BARE_NO = 2  # "no", "not really": an answer to what was asked, where no quote is out yet
NO_DAY = {"full": "full_day", "closed": "closed_day", "too_soon": "too_soon"}


@dataclass(frozen=True)
class Step:
    """One step: its kind, the reply template that words it, and what goes into it.

    ``reasons`` are for the designer; ``questions`` and ``answers`` are for the client; ``assumptions`` are printed
    on the draft; ``hand_over`` is the rule that decided, if one did; ``confirm`` names inferred facts to be read back;
    ``left_open`` names the questions the client was not sure about, to be kept for the next situation.
    A step never books a day: an acceptance is a task for the designer.
    """

    kind: StepKind
    template: str = ""
    questions: tuple[Asked, ...] = ()
    reasons: tuple[str, ...] = ()
    assumptions: tuple[Assumption, ...] = ()
    answers: tuple[Answer, ...] = ()
    hand_over: HandOver | None = None
    confirm: tuple[str, ...] = ()
    left_open: tuple[str, ...] = ()


@dataclass(frozen=True)
class _View:
    """The situation with all that follows from it by rule."""

    situation: Situation
    rules: ConversationRules
    values: Mapping[str, Any]
    unsure_of: frozenset[str]
    open: list[Question]
    holding: list[HandOver]


def next_step(situation: Situation, rules: ConversationRules) -> Step:
    """Return the next step; the first of these that has something to say decides."""
    if situation.opted_out or situation.kind in ("opt_out", "opt_in", "help", "other"):
        return _by_keyword(situation, rules)
    view = _view(situation, rules)
    step = _by_reply(view) or _by_hand_over(view) or _by_question(view) or _by_day(view) or _by_facts(view)
    return replace(step, left_open=tuple(sorted(view.unsure_of)))


def _by_keyword(situation: Situation, rules: ConversationRules) -> Step:
    """Who opted out hears nothing more until they opt in; a message that is no inquiry gets no automatic answer."""
    if situation.kind == "opt_in":
        return Step("opt_in", "opt_in")
    if situation.opted_out:
        return Step("silent", reasons=("the client opted out; only the designer may decide what follows",))
    if situation.kind == "opt_out":
        ring = situation.state in (*QUOTED, "booked")
        return Step("opt_out", "opt_out", reasons=("ring the client: there is a quote or a booking",) if ring else ())
    if situation.kind == "help":
        return Step("help", "help")
    flags = flags_of(situation.text, rules)
    said = (f"it speaks of: {', '.join(flags)}",) if flags else ()
    return Step("silent", reasons=("no inquiry: nothing is answered by rule", *said))


def _view(situation: Situation, rules: ConversationRules) -> _View:
    counts, flags = flag_counts(situation, rules), flags_of(situation.text, rules)
    asked = {question.id: situation.asked.get(question.id, 0) for question in rules.asking.questions}
    values = {**named_values(situation, counts=counts, open_musts={}), "flags": flags, "asked": asked}
    found = open_questions(situation, rules, values)
    unsure_of = left_open(found, situation, unsure="not_sure" in flags)
    musts = {q.id: is_assumed(q, situation, rules, unsure_of) for q in found if q.must}
    values |= {name: named_values(situation, counts=counts, open_musts=musts)[name] for name in ("misread", "missing")}
    return _View(situation, rules, values, unsure_of, found, hand_overs(values, rules))


def _by_reply(view: _View) -> Step | None:
    """A yes or a no to a quote; before a quote a yes, and a bare no, are answers like any other."""
    reasons = tuple(handover.reason for handover in view.holding)
    bare = len(view.situation.text.split()) <= LONGEST_BARE_NO
    if view.situation.kind == "decline" and not (bare and view.situation.state in ("open", "asking")):
        return Step("decline", "decline", reasons=reasons)
    if view.situation.kind == "accept" and view.situation.state in QUOTED:
        task = "the client said yes: check the day again, then ask for the deposit; nothing is booked yet"
        return Step("accept", "accept", reasons=(task, *reasons))
    return None


def _by_hand_over(view: _View) -> Step | None:
    if not view.holding:
        return None
    reasons = tuple(handover.reason for handover in view.holding)
    if all(handover.id in view.situation.handed_over for handover in view.holding):
        return Step("silent", reasons=("the designer has it already", *reasons))
    first = next(handover for handover in view.holding if handover.id not in view.situation.handed_over)
    return Step("hand_over", "hand_over", reasons=reasons, hand_over=first)


def _by_question(view: _View) -> Step | None:
    """A question is answered where the studio has set an answer, and the next questions ride along."""
    if view.situation.kind != "question":
        return None
    found = answers_to(view.situation.text, view.rules)
    language = view.situation.language
    if found and all(answer.words.get(language) for answer in found):
        step = Step("answer", "answer", answers=tuple(found), reasons=tuple(f"answered: {a.id}" for a in found))
        return replace(step, questions=_next_questions(view)) if view.situation.state in ("open", "asking") else step
    if not found and _is_about_the_offer(view):
        return None
    names = ", ".join(answer.id for answer in found)
    reason = f"the studio has set no answer ({names})" if names else "a question the rules do not know"
    return Step("hand_over", "hand_over", reasons=(reason,))


def _is_about_the_offer(view: _View) -> bool:
    """ "How much is a 10 ft garland on June 5?" is answered by asking on and drafting a price."""
    named = ("event_date", "pieces")
    return view.situation.state in ("open", "asking") and any(is_known(view.situation.facts, name) for name in named)


def _by_day(view: _View) -> Step | None:
    """A day that cannot be done is told before anything more is asked; the designer approves the other days."""
    verdict = view.situation.verdict
    if not verdict or not is_known(view.situation.facts, "event_date"):
        return None
    word, why = str(verdict.get("verdict")), str(verdict.get("why", ""))
    if word == "past":
        again = [to_ask(q, view.situation) for q in view.rules.asking.questions if q.id == "confirm_date"]
        kind: StepKind = "ask" if again else "hand_over"
        return Step(kind, kind, questions=tuple(again), reasons=(why,))
    return Step("draft", NO_DAY[word], reasons=(why,)) if word in NO_DAY else None


def _by_facts(view: _View) -> Step:
    """Ask while something needed is open, then one more question if the range is wide, then draft."""
    missing = list(view.values["missing"])
    chosen = _next_questions(view)
    musts_open = any(q.must and not is_assumed(q, view.situation, view.rules, view.unsure_of) for q in view.open)
    if chosen and (musts_open or _range_is_wide(view)):
        return Step("ask", "ask", questions=chosen, reasons=_notes(view), confirm=_to_confirm(view))
    if missing:
        return Step("hand_over", "hand_over", reasons=(f"still not known: {', '.join(missing)}",))
    return _draft(view)


def _next_questions(view: _View) -> tuple[Asked, ...]:
    """The most urgent open questions: those a range needs first, then those that narrow it or fill the text."""
    if view.situation.rounds >= view.rules.asking.limits.rounds:
        return ()
    free = [q for q in view.open if may_ask(q, view.situation, view.rules, view.unsure_of)]
    musts = [question for question in free if question.must]
    others = [question for question in free if not question.must]
    if not musts:
        others = [question for question in others if narrowing(question, view.situation.quote) > 0]
    chosen = [*musts, *others][: view.rules.asking.limits.per_text]
    return tuple(to_ask(question, view.situation) for question in chosen)


def _range_is_wide(view: _View) -> bool:
    """A wide range earns one more text with questions, and no second one."""
    quote = view.situation.quote
    last, musts = set(view.situation.last_asked), {q.id for q in view.rules.asking.questions if q.must}
    if not quote or (last and not last & musts):
        return False
    low, high = int(quote["low"]), int(quote["high"])
    return (high - low) * 200 > view.rules.asking.limits.widest_range * (low + high)


def _draft(view: _View) -> Step:
    quote = view.situation.quote
    answered = for_the_designer(view.open, view.situation, view.unsure_of)
    unsaid = [question for question in view.open if question not in answered]
    look = tuple(f"asked about {question.id}: the answer stands in the conversation" for question in answered)
    single = bool(quote and quote.get("single_figure", quote["low"] == quote["high"]))
    return Step(
        "draft",
        "quote" if single else "range",
        reasons=look + _notes(view),
        assumptions=assumptions(unsaid, quote),
        confirm=_to_confirm(view),
    )


def _notes(view: _View) -> tuple[str, ...]:
    """What the designer should see beside the text: a tight day. What the price took for granted is in the quote."""
    verdict = view.situation.verdict or {}
    return (str(verdict.get("why", "")),) if verdict.get("verdict") == "tight" else ()


def _to_confirm(view: _View) -> tuple[str, ...]:
    """An inferred day is read back in passing, once: in the first text, or when it was just asked for."""
    fact = view.situation.facts.get("event_date")
    if not isinstance(fact, Mapping) or fact.get("status") != "inferred" or not value_of(fact):
        return ()
    asked_for = {"event_date", "confirm_date"} & set(view.situation.last_asked)
    return ("event_date",) if view.situation.rounds == 0 or asked_for else ()
