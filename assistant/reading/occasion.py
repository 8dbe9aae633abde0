"""Occasion: what is celebrated; the more special one wins ("quinceanera" over "turns 15")."""

from assistant.reading import place
from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.layout import QUOTED, SIGNATURE
from assistant.reading.node import Node

RULES = Rules()

# From the most special to the most general, common practice, no source: a later one often only tells when
# ("on Halloween"), how old ("turning 15") or who pays ("company").
RANK = (
    "quinceanera",
    "gender_reveal",
    "baby_shower",
    "bridal_shower",
    "baptism",
    "grand_opening",
    "retirement",
    "graduation",
    "engagement",
    "anniversary",
    "wedding",
    "birthday",
    "school",
    "holiday",
    "corporate",
    "other",
)
OLDEST = 110
LAST_DAY = 31  # "the 19th" is a day, "the 60th" can only be an age


@RULES.rule("turns an age", "aged", kind("turns"), maybe("the", "big", "sweet"), kind("number", "ordinal"))
def turns_an_age(_turns: Node, age: Node) -> object:
    """Read "turning 5", "turns 40", "cumple 15"."""
    value = int(age.value) if age.value == int(age.value) else 0
    return value if 0 < value <= OLDEST else None


@RULES.rule("somebody's nth", "aged", kind("relation"), maybe("s"), kind("ordinal"))
def somebodys_nth(_person: Node, nth: Node) -> object:
    """Read "my nan's 80th", "husband's 40th"."""
    return nth.value if 0 < nth.value <= OLDEST else None


@RULES.rule("my 2 yr old", "aged", word("my", "our", "a", "her", "his"), kind("number"), maybe("-"), kind("age"))
def so_old(age: Node, old: Node) -> object:
    """Read "for my 2 yr old"."""
    return int(age.value) if old.value == "old" and 0 < age.value <= OLDEST else None


def find(context: Context) -> list[Finding]:
    """Return the most special occasion that the text names for its own event."""
    places = place.taken(context)
    named = [node for node in _named(context) if node.first not in places and _is_of_this_event(context, node)]
    if named:
        best = min(named, key=lambda node: (RANK.index(node.value), node.first))
        return [Finding("occasion", best.value, spans=(best.span,), rule=f"named: {context.words(best).lower()}")]
    aged = [node for node in [*context.nodes.longest("aged"), *_nth_of_somebody(context)] if _is_read(context, node)]
    if aged:
        return [Finding("occasion", "birthday", "inferred", (aged[0].span,), "somebody turns an age")]
    return []


def _named(context: Context) -> list[Node]:
    idioms = context.nodes.of("not_occasion")
    nodes = context.nodes.longest("occasion", "not_occasion")
    return [node for node in nodes if node.kind == "occasion" and not any(other.covers(node) for other in idioms)]


def _is_read(context: Context, node: Node) -> bool:
    return context.role(node.first) not in (SIGNATURE, QUOTED)


def _is_of_this_event(context: Context, node: Node) -> bool:
    """Tell whether the word names this event: not a day told by a feast, not a party that is past or denied."""
    if not _is_read(context, node) or node.typo > 1 or (node.typo and len(context.words(node)) < 6):
        return False
    before = context.before(node.first, 2)
    if node.value == "holiday" and (set(before) & _DAY_ONLY or context.fold(node.last) in _DAY_AFTER):
        return False
    if before[-1:] == ("not",) or before == ("not", "a") or before == ("isnt", "a"):
        return False
    return not _is_past(context, node) and not _is_thanks_for_past(context, node)


def _is_past(context: Context, node: Node) -> bool:
    """Tell whether "you did" before it or "last year" after it, in the same clause, puts the party in the past."""
    for past in context.nodes.of("past_event"):
        low, high = min(past.last, node.last), max(past.first, node.first)
        clause = not {",", ".", "now", "but", ";", "\n", "\n\n", "!", "?"} & {
            context.fold(index) for index in range(low, high)
        }
        if clause and high - low <= 7:
            return True
    return False


_DAY_ONLY = {
    "before",
    "after",
    "by",
    "since",
    "until",
    "till",
    "last",
    "around",
    "near",
    "except",
    "excluding",
    "merry",
    "happy",
    "antes",
}
_DAY_AFTER = {
    "weekend",
    "week",
    "break",
    "colors",
    "colours",
    "tree",
    "eve",
    "themed",
    "theme",
    "vacation",
    "hours",
    "special",
    "sunday",
    "monday",
}


def _is_thanks_for_past(context: Context, node: Node) -> bool:
    after = context.nodes.beginning("done", node.last)
    return any(done.value == "past" for done in after) and context.fold(node.last) in (
        "was",
        "were",
        "looked",
        "turned",
    )


def _nth_alone(context: Context, node: Node) -> bool:
    """Tell whether nothing is counted by the ordinal: "for a 70th on march 20th"."""
    return node.value >= 13 and context.fold(node.last) in (
        "on",
        "at",
        "in",
        "for",
        "party",
        "bash",
        "and",
        ".",
        ",",
        "",
        "do",
        "\n",
        "\n\n",
    )


def _opens(context: Context, node: Node) -> bool:
    """Tell whether a number too high for a day opens its clause ("Saturday 4pm? 60th, cream and gold")."""
    return context.fold(node.first - 1) in ("", ",", ".", "?", "!", "\n", "\n\n")


def _nth_of_somebody(context: Context) -> list[Node]:
    """Return an ordinal after a possessive that no month owns: "Dave's 40th", "it's her 30th"."""
    found: list[Node] = []
    for node in context.nodes.longest("ordinal"):
        token = context.tokens[node.first - 1] if node.first else None
        owner = token is not None and (
            token.text.lower().endswith(("'s", "’s")) or token.fold in ("his", "her", "my", "their", "hubbys")
        )
        general = token is not None and token.fold in ("a", "the", "an", "big") and _nth_alone(context, node)
        general = general or (node.value > LAST_DAY and _opens(context, node) and _nth_alone(context, node))
        general = general and not (context.fold(node.first - 1) == "the" and node.value <= LAST_DAY)
        follows = context.nodes.is_a("month", node.last) or context.fold(node.last) in (
            "of",
            "floor",
            "st",
            "street",
            "ave",
            "grade",
            "grader",
        )
        month = bool(context.nodes.ending("month", node.first)) or (
            token is not None and token.fold in ("its", "thats", "lets", "whats")
        )
        if (owner or general) and not follows and not month and node.value <= OLDEST:
            found.append(node)
    return found
