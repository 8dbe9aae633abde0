"""Which facts are still to be asked for, most needed first."""

from assistant.inquiry.known import Facts, day_is_open, in_doubt, is_known, pieces_of
from assistant.inquiry.rules import ASKABLE, AskingRules, ConversationRules, Question


def open_facts(facts: Facts, rules: AskingRules | ConversationRules, *, kind: str = "inquiry") -> list[str]:
    """Return what the next reply would ask for: at most three, most needed first, never what is known.

    ``facts`` is a fact sheet as `assistant read` prints it. A message that is no inquiry (``kind``) asks for nothing.
    """
    asking = rules.asking if isinstance(rules, ConversationRules) else rules
    if kind not in asking.kinds_asked:
        return []
    wanted = [question for question in asking.questions if question.id in ASKABLE and is_open(question, facts, asking)]
    wanted.sort(key=lambda question: urgency(question, facts))
    return [question.id for question in wanted[: asking.limits.listed]]


def is_open(question: Question, facts: Facts, rules: AskingRules) -> bool:
    """Tell whether the fact behind ``question`` still has to be asked for."""
    if question.open == "unsized":
        return any(_lacks_size(piece, rules) for piece in pieces_of(facts))
    if question.open == "in_doubt":
        return in_doubt(facts, question.fact)
    if question.open == "absent":
        return not is_known(facts, question.fact) and not in_doubt(facts, question.fact)
    return not is_known(facts, question.fact)


def urgency(question: Question, facts: Facts) -> int:
    """Return the place of ``question`` in the order of asking; lower comes first."""
    if question.order_if_day_open is not None and day_is_open(facts.get(question.fact)):
        return question.order_if_day_open
    return question.order


def _lacks_size(piece: Facts, rules: AskingRules) -> bool:
    """A piece whose size moves the price, and none of the measures that would tell it."""
    measures = rules.sizes.get(str(piece.get("kind")), [])
    return bool(measures) and not any(piece.get(measure) for measure in measures)
