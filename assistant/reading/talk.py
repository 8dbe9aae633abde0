"""Talk: what kind of message a text is. Opting out comes first; facts about an event make an inquiry of most others.

Opt-out words are those of 47 CFR 64.1200(a)(10) and their like: the whole message, or a clear wish anywhere in it.
"""

from collections.abc import Callable, Sequence

from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules, kind, maybe
from assistant.reading.layout import QUOTED, SIGN_OFF, SIGNATURE
from assistant.reading.node import Node
from assistant.reading.tokens import MARK, NEWLINE, SYMBOL, WORD, Token

INQUIRY, ACCEPT, DECLINE, QUESTION, PERSON, OTHER = "inquiry", "accept", "decline", "question", "person", "other"
OPT_OUT, OPT_IN, HELP = "opt_out", "opt_in", "help"
WITHOUT_FACTS = {OPT_OUT, OPT_IN, HELP, OTHER}
EVENT_FACTS = {"event_date", "event_time", "pieces", "size", "count", "colours", "occasion", "budget", "setting"}
SHORT = 9
BESIDE_STOP = ("talk_decline", "talk_thanks", "talk_other", "talk_complaint", "talk_person", "talk_opt_out_bare")
RULES = Rules()
Answer = tuple[str, str] | None


@RULES.rule("stop messages", "opt_out_wish", kind("talk_stop_verb"), maybe("me", "the", "these"), kind("talk_messages"))
def stop_messages(verb: Node, messages: Node) -> object:
    return "messages" if verb.value == messages.value == "word" else None


def kind_of(context: Context, findings: Sequence[Finding]) -> tuple[str, str]:
    """Return the kind of message and the words or the reason that made it so."""
    message = _Message(context, findings)
    for test in TESTS:
        answer = test(message)
        if answer is not None:
            return answer
    return INQUIRY, "nothing speaks for another kind"


class _Message:
    """One text as the tests below look at it: its own words, its cues, its facts."""

    def __init__(self, context: Context, findings: Sequence[Finding]) -> None:
        self.context = context
        own = [i for i in range(len(context.tokens)) if context.role(i) not in (QUOTED, SIGNATURE, SIGN_OFF)]
        self.tokens = [context.tokens[i] for i in own]
        self.own = set(own)
        self.facts = {finding.key for finding in findings} & EVENT_FACTS
        self.names = any(finding.key == "name" for finding in findings)
        self.place = any(finding.key == "place" for finding in findings)

    @property
    def words(self) -> list[Token]:
        """The words, without marks and line ends."""
        return [token for token in self.tokens if token.kind not in (MARK, NEWLINE)]

    @property
    def asks(self) -> bool:
        """Tell whether a question mark stands in it."""
        return any(token.fold == "?" for token in self.tokens)

    def says(self, name: str) -> str:
        """Return the longest words of a kind in the message's own text, of equal ones the first, or ""."""
        found = [node for node in self.context.nodes.longest(name) if node.first in self.own]
        return self.context.words(max(found, key=lambda node: node.length)) if found else ""

    def is_only(self, *kinds: str) -> bool:
        """Tell whether words of these kinds, and polite ones, are all that it says."""
        covered: set[int] = set()
        core = False
        for name in (*kinds, "talk_polite"):
            for node in self.context.nodes.of(name):
                covered.update(range(node.first, node.last))
                core = core or (name != "talk_polite" and node.first in self.own)
        left = [i for i in self.own if i not in covered and self.context.tokens[i].kind not in (MARK, NEWLINE)]
        return core and not left


def _opt_out(message: _Message) -> Answer:
    if message.is_only("talk_opt_out_bare") and not message.asks:
        return OPT_OUT, "a bare word of opting out"
    if message.is_only("talk_stop_word", *BESIDE_STOP) and message.says("talk_stop_word"):
        return OPT_OUT, "a word of opting out beside a refusal"
    clause = _stop_clause(message)
    if clause:
        return OPT_OUT, f"a word of opting out as a clause of its own: {clause!r}"
    wish = _wish_for_silence(message)
    return (OPT_OUT, f"a wish to hear no more: {wish!r}") if wish else None


def _stop_clause(message: _Message) -> str:
    """Return a stop word that is a whole clause ("Stop, wrong number"), or ""."""
    tokens = message.context.tokens
    for node in message.context.nodes.longest("talk_stop_word"):
        opened = node.first == 0 or tokens[node.first - 1].kind in (MARK, NEWLINE)
        closed = node.last == len(tokens) or tokens[node.last].kind in (MARK, NEWLINE)
        glued = node.first > 0 and tokens[node.first - 1].end == node.start and tokens[node.first - 1].fold == "-"
        if node.first in message.own and opened and closed and not glued and not message.asks:
            return message.context.words(node)
    return ""


def _wish_for_silence(message: _Message) -> str:
    """Return the words of a wish to get no more messages, or ""; "don't stop texting" is none."""
    context = message.context
    wishes = [node for node in context.nodes.longest("talk_opt_out_wish", "opt_out_wish") if node.first in message.own]
    for node in wishes:
        if not context.nodes.ending("talk_turned_round", node.first):
            return context.words(node)
    for refusal in context.nodes.longest("talk_refusal"):
        _, last = context.sentence(refusal.first)
        later = [
            n
            for n in context.nodes.of("talk_messages")
            if refusal.last <= n.first <= refusal.last + 5 and n.last <= last
        ]
        named = [node for node in later if node.value == "word" and context.fold(node.first) not in ("all", "spam")]
        if refusal.first in message.own and named and not message.asks and not _stop_inside(refusal, named[0], context):
            return context.text[refusal.start : named[0].end]
    return ""


def _stop_inside(refusal: Node, messages: Node, context: Context) -> bool:
    """Tell whether the refusal is of stopping ("don't stop texting")."""
    stop = any(context.fold(index) in ("stop", "forget") for index in range(refusal.last, messages.first))
    return stop or bool(context.nodes.ending("talk_turned_round", refusal.first))


def _opt_in(message: _Message) -> Answer:
    if message.is_only("talk_opt_in_bare") and not message.asks:
        return OPT_IN, "a bare word of opting in"
    wish = message.says("talk_opt_in_wish")
    return (OPT_IN, f"a wish to hear again: {wish!r}") if wish else None


def _help(message: _Message) -> Answer:
    return (HELP, "the bare keyword") if message.is_only("talk_help_bare") and len(message.words) <= 2 else None


@RULES.rule("is this the nail place", "talk_other_sure", kind("talk_is_this"), kind("talk_other_trade"))
def another_trade(_asks: Node, trade: Node) -> object:
    return trade.value


def _unrelated(message: _Message) -> Answer:
    sure = message.says("talk_other_sure")
    if sure:
        return OTHER, f"no inquiry: {sure!r}"
    words = message.says("talk_other")
    strong = words and not message.facts - {"occasion", "place"} - _doubtful(message)
    return (OTHER, f"no inquiry: {words!r}") if strong else None


def _doubtful(message: _Message) -> set[str]:
    """A pitch names budgets, counts and pieces too; two cues or more outweigh them, a date or a colour does not."""
    cues = [node for node in message.context.nodes.longest("talk_other") if node.first in message.own]
    return (
        {"budget", "count", "pieces", "size", "setting", "event_time", "event_date"}
        if len(cues) > 1
        else {"budget", "count"}
    )


def _person(message: _Message) -> Answer:
    cancels = message.says("talk_cancel_order")
    if cancels:
        return PERSON, f"an order to be cancelled: {cancels!r}"
    complaint = message.says("talk_complaint")
    if complaint and not message.says("talk_question") and not message.facts & {"pieces", "size"}:
        return PERSON, f"a complaint: {complaint!r}"
    wish = message.says("talk_person")
    return (PERSON, f"wants a person: {wish!r}") if wish and not message.facts & {"pieces", "size", "budget"} else None


def _decline(message: _Message) -> Answer:
    words = message.says("talk_decline")
    if not words or message.facts - {"budget", "occasion"}:
        return None
    alone = message.is_only("talk_decline", "talk_thanks", "talk_smalltalk")
    clear = len(words.split()) > 1 and not message.says("talk_question")
    return (DECLINE, f"a no: {words!r}") if alone or clear else None


def _accept(message: _Message) -> Answer:
    if message.asks and not message.says("talk_accept_strong"):
        return None
    if message.facts - {"occasion"} and not message.says("talk_accept_strong"):
        return None
    if message.facts & {"pieces", "size", "count", "colours", "event_time"}:
        return None
    if message.is_only("talk_accept", "talk_thanks") and message.says("talk_accept"):
        return ACCEPT, "yes-words alone"
    strong = message.says("talk_accept_strong")
    if strong:
        return ACCEPT, f"a yes: {strong!r}"
    first = _starts_with(message, "talk_accept")
    return (ACCEPT, f"a yes: {first!r}") if first and len(message.words) <= SHORT and not message.place else None


def _starts_with(message: _Message, name: str) -> str:
    words = [i for i in sorted(message.own) if message.context.tokens[i].kind == WORD]
    nodes = message.context.nodes.beginning(name, words[0]) if words else []
    return message.context.words(max(nodes, key=lambda node: node.length)) if nodes else ""


def _thanks(message: _Message) -> Answer:
    praise = message.says("talk_praise")
    if praise and not message.asks and not message.facts & {"pieces", "size", "budget", "event_date"}:
        return OTHER, f"praise: {praise!r}"
    if message.facts or message.place or message.asks or message.names:
        return None
    if message.is_only("talk_thanks", "talk_smalltalk", "talk_praise"):
        return OTHER, "thanks alone"
    thanks = _starts_with(message, "talk_thanks")
    brief = len(message.words) <= 12 and not message.says("talk_wants")
    return (OTHER, f"thanks: {thanks!r}") if thanks and brief else None


def _later(message: _Message) -> Answer:
    words = message.says("talk_later")
    if not words or message.facts or message.asks:
        return None
    return OTHER, f"will answer later: {words!r}"


def _question(message: _Message) -> Answer:
    words = message.says("talk_question")
    if words and not message.facts - {"occasion", "setting"}:
        return QUESTION, f"asks about the studio: {words!r}"
    return None


def _empty(message: _Message) -> Answer:
    said = any(token.fold != SYMBOL and token.kind not in (MARK, NEWLINE) for token in message.tokens)
    return None if said else (OTHER, "no words")


def _plain_question(message: _Message) -> Answer:
    about_event = message.facts or message.place or message.says("talk_wants")
    if message.says("talk_request"):
        return None
    asks = message.asks or _starts_with(message, "talk_question_start")
    return (QUESTION, "a question without facts") if asks and not about_event else None


TESTS: tuple[Callable[[_Message], Answer], ...] = (
    _opt_out,
    _opt_in,
    _help,
    _empty,
    _unrelated,
    _person,
    _thanks,
    _decline,
    _accept,
    _question,
    _later,
    _plain_question,
)
