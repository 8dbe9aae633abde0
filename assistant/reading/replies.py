"""A message that is a number alone ("12", "15 actually"): an answer to "how many?" where a piece is still uncounted."""

from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules
from assistant.reading.tokens import MARK, NEWLINE

RULES = Rules()
LARGEST = 300


def find(context: Context) -> list[Finding]:
    """Return the number, with ``corrects`` telling whether words of change stand beside it."""
    numbers = context.nodes.longest("number")
    if len(numbers) != 1 or numbers[0].value.denominator != 1 or not 1 <= numbers[0].value <= LARGEST:
        return []
    number = numbers[0]
    fillers = [*context.nodes.of("day_change"), *context.nodes.of("talk_polite"), *context.nodes.of("reply_filler")]
    covered = set(range(number.first, number.last))
    for filler in fillers:
        covered.update(range(filler.first, filler.last))
    left = [i for i, token in enumerate(context.tokens) if i not in covered and token.kind not in (MARK, NEWLINE)]
    marks = {token.fold for token in context.tokens if token.kind == MARK} - {".", ",", "!", "*"}
    if left or marks:
        return []
    corrects = bool(context.nodes.of("day_change"))
    extra = {"corrects": corrects}
    return [Finding("number", int(number.value), "stated", (number.span,), "a number alone", extra=extra)]
