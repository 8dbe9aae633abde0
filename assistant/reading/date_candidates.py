"""Which day phrases of a text are days at all: overlaps settled, ages, streets, sizes and phone numbers left out."""

from assistant.reading.context import Context
from assistant.reading.date_parts import DIGITS
from assistant.reading.days import MonthDay, Nth, Numeric
from assistant.reading.holidays import Holiday
from assistant.reading.layout import QUOTED, SIGNATURE
from assistant.reading.node import Node
from assistant.reading.tokens import NUMBER, WORD
from assistant.reading.weeks import Month

WEAK_UNITS = {"in", "m", "p", "a", "-", "+", "no", "'", '"', "k", ":", "%"}
EDGES = {"", ".", "?", "!", "*", "\n", "\n\n"}
SOMETIME = {"before", "after", "by", "until", "til", "till", "since", "post", "pre", "antes", "despues"}
STREETS = {"st", "street", "ave", "avenue", "rd", "road", "lane", "ln", "blvd", "dr", "drive", "court", "ct", "way"}
OPENERS = {"", ",", ".", "!", "?", ";", ":", "(", ")", "*", "-", "\n", "\n\n", "/", "&", '"'}
MONTH_NEEDS_NO_PREPOSITION = {"wedding", "party", "event", "shower", "baby", "bridal", "birthday", "bday", "graduation"}
SPELLED_TOO_COMMON = {"first", "second", "third", "fourth", "fifth", "primero", "primer", "primera", "segundo"}
SPELLED_TOO_COMMON |= {"segunda", "tercero", "tercer", "tercera", "cuarto", "cuarta", "quinto", "quinta"}
FRACTION_FOLLOWS = {*EDGES, "at", ",", "works", "open", "free", "available", "please", "is", "or", "would", "maybe"}
FRACTIONS = {(1, 2), (1, 3), (2, 3), (1, 4), (3, 4)}
LONE_NTH_LEADS = {"on", "is", "for", "do", "have", "the", "date", "open", "free", "available", "avail", "maybe", "to"}


def candidates(context: Context) -> list[Node]:
    """Return the day phrases that may be days, in the order of the text, no two on the same words."""
    return context.once("day candidates", _candidates)


def _candidates(context: Context) -> list[Node]:
    found = [
        node
        for node in context.nodes.of(
            "day",
            "bare_day",
            "loose_day",
            "month_alone",
            "starred_day",
            "dash_day",
            "lone_weekday",
            "loose_weekday",
        )
        if is_day(node, context)
    ]
    blocked = context.nodes.of("no_date")
    found = [node for node in found if not any(word.meets(node) and word.length >= node.length for word in blocked)]
    return _settle(found, context)


def _settle(found: list[Node], context: Context) -> list[Node]:
    """Let the longest phrase have its words; of two equal ones the order usual here, then the earlier."""
    month_first = not day_first(context.locale)

    def weight(node: Node) -> tuple[int, ...]:
        confirmed = isinstance(node.value, MonthDay) and bool(node.value.weekdays)
        usual = isinstance(node.value, MonthDay) and (node.rule.startswith("month day") == month_first)
        counted = node.rule == "month, nth weekday"
        return (
            -node.length,
            node.typo,
            not counted,
            isinstance(node.value, Month),
            not confirmed,
            not usual,
            node.first,
        )

    kept: list[Node] = []
    taken: set[int] = set()
    for node in sorted(found, key=weight):
        if taken.isdisjoint(range(node.first, node.last)):
            kept.append(node)
            taken.update(range(node.first, node.last))
    return sorted(kept, key=lambda node: node.first)


def day_first(locale: str) -> bool:
    """Tell whether a locale writes the day before the month (CLDR: all but en_US of those spoken here)."""
    return locale.replace("-", "_") not in ("en_US", "en", "en_PH", "")


def order_sure(locale: str) -> bool:
    """Tell whether people of a locale write numeric dates in one order; Spanish in the US is written in both."""
    return locale.replace("-", "_") in ("en_US", "en_GB", "en_AU", "en_NZ", "en_IE", "es_MX", "es_ES")


def is_day(node: Node, context: Context) -> bool:
    """Tell whether the words around a phrase let it be a day."""
    if node.rule == "about a day" and _about_means_of(node, context):
        return False
    if context.role(node.first) in (QUOTED, SIGNATURE) or context.before(node.first, 2) == ("b", "4"):
        return False
    if node.kind == "month_alone":
        return _is_month(node, context)
    if node.kind == "dash_day" and "date" not in (*context.before(node.first, 3), *context.after(node.last, 5)):
        return False
    if node.kind == "lone_weekday":
        return context.fold(node.first - 1) in EDGES and context.fold(node.last) in EDGES
    if node.kind == "loose_weekday" or node.rule == "month, number on the next line":
        return context.fold(node.first - 1) in EDGES and context.fold(node.last) in (*EDGES, ",")
    if node.kind == "starred_day":
        return context.text.startswith("*") and node.last == len(context.tokens)
    if node.kind == "bare_day":
        return _is_bare(node, context)
    if isinstance(node.value, Holiday):
        return not _is_theme(node, context) and context.fold(node.first - 1) not in SOMETIME
    if isinstance(node.value, MonthDay | Nth | Numeric):
        return _numbers_are_days(node, context)
    if isinstance(node.value, Month) and node.rule == "in a month":
        if context.fold(node.first - 1) == "back":  # "back in March" is a story
            return False
        return not _is_address(node, context)
    return not _every(node, context) and context.fold(node.first - 1) != "following"


def _about_means_of(node: Node, context: Context) -> bool:
    """Tell whether "about" means "of" ("what about the 12th", "asking about june 5", "about the june 5 party")."""
    led = context.fold(node.first - 1) in ("what", "how", "que", "asking", "ask", "inquiring", "asked", "checking")
    return led or (context.fold(node.first) == "about" and context.fold(node.first + 1) == "the")


def _every(node: Node, context: Context) -> bool:
    return context.fold(node.first - 1) in ("every", "each", "cada", "todos", "most")


def _numbers_are_days(node: Node, context: Context) -> bool:
    if _number_counts(node, context) or _number_continues(node, context):
        return False
    if node.kind == "loose_day" or isinstance(node.value, Nth):
        return not _is_place_in_a_row(node, context)
    return not isinstance(node.value, Numeric) or not _is_share(node, context)


def _number_counts(node: Node, context: Context) -> bool:
    """Tell whether the last number belongs to what follows ("june 12 ft", "june 5 - 7pm", "june 3:30")."""
    last = context.tokens[node.last - 1]
    return last.kind == NUMBER and len(last.text) != 4 and counts_something(node.last, context)


def counts_something(index: int, context: Context) -> bool:
    """Tell whether a number before token ``index`` counts what stands there: feet, people, a time.

    Units that are ordinary words or marks too ("in", "x", "a") count only when glued or followed by a number.
    """
    if not context.nodes.is_a("counted", index) or index == 0:
        return False
    unit = context.tokens[index]
    glued = unit.start == context.tokens[index - 1].end
    if unit.fold in ("x", "by"):
        return index + 1 < len(context.tokens) and context.tokens[index + 1].kind == NUMBER
    return glued if unit.fold in WEAK_UNITS else True


def _number_continues(node: Node, context: Context) -> bool:
    """Tell whether the phrase is cut out of a longer number: money, a phone number, a fraction, a size."""
    first, last = context.tokens[node.first], context.tokens[node.last - 1]
    if first.kind == NUMBER:
        before = context.fold(node.first - 1)
        glued = node.first > 0 and context.tokens[node.first - 1].end == first.start
        if before in ("$", "£", "€", "#") or (glued and before in ("/", "-", ".", "x", ":", "+", ",", "'")):
            return True
    if last.kind == NUMBER and node.last + 1 < len(context.tokens):
        mark, after = context.tokens[node.last], context.tokens[node.last + 1]
        glued = mark.start == last.end and after.start == mark.end and after.kind == NUMBER
        if mark.fold == "-" and context.nodes.is_a("clock_half", node.last + 2):
            return False
        return glued and mark.fold in ("/", "-", ".", "x", "'", ",", ":")
    return False


def _is_place_in_a_row(node: Node, context: Context) -> bool:
    """Tell whether an ordinal is an age, a street, a floor, a grade ("her 40th", "5th st", "anniversary (25th)")."""
    if context.fold(node.first - 1) == "(" and context.fold(node.last) == ")" and node.kind == "loose_day":
        return True
    if context.nodes.is_a("after_ordinal", node.last) and not _weekday_follows(node, context):
        return True
    if any(part.rule == "word" for part in node.parts if part.kind == "weekdays"):
        return False
    before = node.first
    if any(context.nodes.ending("before_ordinal", before)) or context.fold(before - 1).endswith("'s"):
        return context.fold(node.first) not in ("the", "el")
    possessive = before > 0 and "'" in context.tokens[before - 1].text.replace("’", "'")
    if possessive and context.tokens[before - 1].text[-1:] in "sS" and node.kind == "loose_day":
        return True
    return _is_lone_nth_without_lead(node, context)


def _weekday_follows(node: Node, context: Context) -> bool:
    return context.nodes.is_a("weekday", node.last)


def _is_lone_nth_without_lead(node: Node, context: Context) -> bool:
    """An ordinal without "the" needs a lead ("on 14th"), or to stand alone; common ordinal words never are days."""
    word = context.tokens[node.last - 1]
    if word.kind == WORD and word.fold in SPELLED_TOO_COMMON and len(node.parts) == 1:
        return not any(part.kind == "weekdays" for part in node.parts)
    if node.kind != "loose_day":
        return False
    before = context.fold(node.first - 1)
    alone = before in OPENERS and context.fold(node.last) in (*OPENERS, "at", "works", "stays", "is", "would", "please")
    return not alone and before not in LONE_NTH_LEADS and context.fold(node.last) not in ("stays", "works", "open")


def _is_share(node: Node, context: Context) -> bool:
    """Tell whether "7/8" is a fraction or a mark rather than a date; "3/4" is one unless it is led in as a day."""
    after = context.fold(node.last)
    phrase = node.value
    if (phrase.first, phrase.second) in FRACTIONS and phrase.year is None and not phrase.weekdays:
        before = context.fold(node.first - 1)
        if before not in LONE_NTH_LEADS and not (before in EDGES and after in FRACTION_FOLLOWS):
            return True
    return context.fold(node.first - 1) in ("$", "score", "size") or after in ("of", "the", "dozen", "stars", "cup")


def _is_bare(node: Node, context: Context) -> bool:
    """Tell whether "saturday 14" is a date: the number may be an hour or a count, so much must speak for a day."""
    days = node.parts[-1].value
    if days[2] != DIGITS or _number_counts(node, context) or _number_continues(node, context):
        return False
    follow = context.fold(node.last)
    numbered = days[0][0] > 12 or context.fold(node.last - 2) in ("el", "dia")
    return numbered and (follow in OPENERS or follow in ("at", "from", "for", "de", "a", "en", "y", "about", "around"))


def _is_month(node: Node, context: Context) -> bool:
    """Tell whether a month's name alone is a time: names such as April or May need a year, or an event beside them."""
    if context.tokens[node.first].kind == NUMBER or node.first >= node.last:
        return False
    if context.fold(node.first - 1) in EDGES and context.fold(node.last) in EDGES:
        return True
    if context.nodes.ending("day_change", node.first):
        return True
    if not context.nodes.is_a("month_name_too", node.first):
        return not _is_address(node, context)
    full = context.fold(node.first) in ("april", "june", "august", "may")
    return full and context.fold(node.last) in MONTH_NEEDS_NO_PREPOSITION and context.fold(node.first) != "may"


def _is_address(node: Node, context: Context) -> bool:
    return context.fold(node.last) in STREETS


def _is_theme(node: Node, context: Context) -> bool:
    """Tell whether a holiday's name is only the party's theme, to be settled by the holiday's rule."""
    name = node.value.name
    followed = context.nodes.is_a("party_of", node.last)
    before = context.fold(node.first - 1)
    theme = context.settings.holidays.is_theme(name)
    return theme and ((followed and before != "on") or before in ("like", "of", "or", "and", "no", "not", "how"))
