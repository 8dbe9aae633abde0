"""What can be a person's name, and what only looks like one."""

from collections.abc import Sequence

from assistant.reading.context import Context
from assistant.reading.tokens import NEWLINE, NUMBER, WORD

LONGEST_NAME = 4
_NO_NAME = (
    "not_name",
    "month",
    "weekday",
    "piece",
    "occasion",
    "setting",
    "sign_off",
    "soft_sign_off",
    "relation",
    "balloon",
    "guests",
    "place_label",
    "budget_word",
    "colour_label",
    "self_intro",
    "stop_word",
    "street",
    "wanted",
    "not_after_i_am",
    "at_most",
    "subject_label",
    "unwanted",
    "venue",
    "currency",
)
_MAY_BE_NAMES = {
    "may",
    "june",
    "april",
    "august",
    "rose",
    "violet",
    "ruby",
    "dawn",
    "will",
    "grant",
    "hope",
    "faith",
    "joy",
    "grace",
    "art",
    "lane",
    "rich",
    "mark",
    "drew",
    "sunny",
    "summer",
    "autumn",
    "penny",
    "sandy",
    "harper",
    "hunter",
    "heath",
    "court",
    "hill",
    "park",
    "woods",
    "garden",
    "ty",
    "hall",
    "green",
    "banks",
    "field",
    "wells",
    "brooks",
    "ford",
    "rosa",
    "blanca",
    "celeste",
    "hazel",
    "jade",
    "amber",
    "coral",
    "iris",
    "olive",
    "pearl",
    "sage",
    "scarlet",
    "azul",
    "indigo",
    "jasmine",
    "ivory",
    "clay",
}
_INITIAL_MARKS = {".", "-"}
KISSES = {"x", "xx", "xxx", "xo", "xoxo"}


def name_at(context: Context, at: int, *, capital: bool, most: int = LONGEST_NAME) -> int | None:
    """Return the token after a person's name that starts at ``at``: one to four words ("Jodi P.", "Sal Whitcombe").

    ``capital`` asks for capitals; without it one or two unknown small words will do.
    """
    last = at
    words = 0
    while (
        last < len(context.tokens) and words < most and is_name_word(context, last, capital=capital, first=words == 0)
    ):
        last += 1
        words += 1
        if _joins(context, last):
            last += 1
    if words and context.fold(last) == "." and len(context.fold(last - 1)) == 1:
        last += 1
    if words and context.fold(last - 1) == "-":
        last -= 1
    return last if words else None


def _joins(context: Context, at: int) -> bool:
    """Tell whether a hyphen or an initial's point goes on to another capital ("Anne-Marie", "J. Ortiz")."""
    if context.fold(at) not in _INITIAL_MARKS or at + 1 >= len(context.tokens):
        return False
    glued = context.tokens[at - 1].end == context.tokens[at].start
    initial = context.fold(at) == "-" or len(context.fold(at - 1)) == 1
    return glued and initial and context.tokens[at + 1].text[:1].isupper()


def is_name_word(context: Context, at: int, *, capital: bool, first: bool) -> bool:
    """Tell whether a token can be part of a person's name."""
    token = context.tokens[at]
    if token.kind != WORD or (capital and not token.text[:1].isupper()):
        return False
    if token.fold in KISSES:
        return False
    if len(token.fold) == 1:
        return not first and (token.text.isupper() or not capital)
    if any(node.length > 1 for node in context.nodes.beginning("colour", at)):
        return False
    if token.fold in _MAY_BE_NAMES and token.text[:1].isupper():
        return True
    colour = any(not node.typo for node in context.nodes.beginning("colour", at))
    if colour and first:
        return False
    kinds = _NO_NAME
    known = any(not node.typo for kind in kinds for node in context.nodes.beginning(kind, at))
    particle = token.fold in ("de", "la", "del", "van", "von", "da", "di", "al", "el", "st", "y")
    return not known or (particle and not first and token.text[:1].isupper())


def ends_here(context: Context, at: int, marks: Sequence[str] = ()) -> bool:
    """Tell whether a line, a sentence or the text ends before token ``at``."""
    token = context.tokens[at] if at < len(context.tokens) else None
    return token is None or token.kind in (NEWLINE, NUMBER) or token.fold in (".", "!", "*", *marks)
