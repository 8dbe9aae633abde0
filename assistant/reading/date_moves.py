"""Words that move a date which stood before, or choose among those offered: "a week later", "the second one"."""

from assistant.reading.context import Context
from assistant.reading.findings import KEEP, SHIFT, UNSETTLE, Finding
from assistant.reading.grammar import Rules, kind, maybe, word
from assistant.reading.node import Node

RULES = Rules()
KEY = "event_date"
CHOOSE = "choose"
LONGEST_CHOICE = 9
WORK = {"access", "service", "meeting"}


@RULES.rule("a week later", "date_shift", kind("duration"), kind("day_shift_way"))
def later(duration: Node, way: Node) -> object:
    days, about = duration.value
    return None if about and days != 30 else days * int(way.value)


@RULES.rule("push it back a week", "date_shift", kind("day_shift_way"), maybe("by", "to"), kind("duration"))
def pushed(way: Node, duration: Node) -> object:
    days, about = duration.value
    return None if about else days * int(way.value)


@RULES.rule("the week after", "date_shift", word("the", "to"), word("week", "weekend"), kind("day_shift_way"))
def week_after(way: Node) -> object:
    return 7 * int(way.value)


@RULES.rule("the following week", "date_shift", word("following"), kind("week_word", "weekend_word"))
def following_week(_week: Node) -> object:
    return 7


@RULES.rule("the day after", "date_shift", word("the", "a"), word("day"), kind("day_shift_way"))
def day_after(way: Node) -> object:
    return int(way.value)


def moves(context: Context, days: list[Node], has_day: bool) -> list[Finding]:
    """Return what the text does with a date known before; nothing when it gives a day itself."""
    if has_day:
        return []
    return _unsettled(context) or _kept(context) or _chosen(context, days) or _shifted(context)


def _unsettled(context: Context) -> list[Finding]:
    nodes = context.nodes.longest("day_unsettled")
    spans = tuple(node.span for node in nodes[:1])
    return [Finding(KEY, None, "unclear", spans, "the date is in doubt again", "", (), UNSETTLE)] if nodes else []


def _kept(context: Context) -> list[Finding]:
    nodes = context.nodes.longest("day_keep")
    if not nodes:
        return []
    node = nodes[-1]
    return [Finding(KEY, node.value, "stated", (node.span,), "back to a date", "", (), KEEP)]


def _chosen(context: Context, days: list[Node]) -> list[Finding]:
    nodes = context.nodes.longest("pick")
    short = len(context.tokens) <= LONGEST_CHOICE or (nodes and nodes[0].first <= 2)
    if not nodes or not short or days:
        return []
    node = nodes[0]
    return [Finding(KEY, int(node.value), "stated", (node.span,), "choice among dates", "", (), CHOOSE)]


def _shifted(context: Context) -> list[Finding]:
    nodes = [node for node in context.nodes.longest("date_shift", "beside_day") if not _says_after(node, context)]
    if not nodes or not (context.nodes.of("day_change") or len(context.tokens) <= LONGEST_CHOICE):
        return []
    node = nodes[-1]
    if _is_for_work(node, context):
        return []
    if node.kind == "beside_day":
        weekday, way = node.value
        extra = {} if weekday is None else {"weekday": weekday}
        return [Finding(KEY, way, "stated", (node.span,), node.rule, "", (), SHIFT, extra)]
    return [Finding(KEY, node.value, "stated", (node.span,), node.rule, "", (), SHIFT)]


def _says_after(node: Node, context: Context) -> bool:
    """Tell whether the words tell a time since something ("after a day"), not a move."""
    return node.rule == "push it back a week" and context.fold(node.first) in ("after", "despues")


def _is_for_work(node: Node, context: Context) -> bool:
    """Tell whether the words are about coming to work ("set up the day before"), not about the event."""
    first, last = context.sentence(node.first)
    cues = context.nodes.of("day_cue")
    return any(cue.value in WORK and first <= cue.first < last for cue in cues)
