"""Name: the client's own, where they sign or introduce themselves; never the guest of honour's or a company's."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from assistant.reading.context import Context
from assistant.reading.findings import Finding
from assistant.reading.grammar import Rules
from assistant.reading.layout import QUOTED, SIGN_OFF, SIGNATURE
from assistant.reading.name_words import KISSES, ends_here, name_at
from assistant.reading.place_words import is_word
from assistant.reading.tokens import NEWLINE, NUMBER

RULES = Rules()

_ENDING_MARKS = (",", ";", ")", "(", "|", "-", "/")
LONGEST_TAIL = 60  # tokens after a name: marks, a phone number, a short signature
_FILLING = {".", "!", "*", ")", "-", ":", ";", ",", "+", "("}
_PLAIN_INTRODUCTIONS = {
    "my name is",
    "my names",
    "name is",
    "names",
    "me llamo",
    "mi nombre es",
    "i go by",
    "call me",
    "your name",
}


@dataclass(frozen=True, slots=True)
class Signed:
    """Tokens ``first`` to ``last`` that are the client's name, and how they were found."""

    first: int
    last: int
    rule: str


def find(context: Context) -> list[Finding]:
    """Return the client's name: the surest rule that finds one, the last such place in the text."""
    for rule in _RULES:
        found = [s for s in rule(context) if context.role(s.first) != QUOTED]
        if found:
            signed = found[0] if rule is _own_line_signature else found[-1]
            start, end = context.tokens[signed.first].start, context.tokens[signed.last - 1].end
            text = " ".join(context.text[start:end].split())
            return [Finding("name", _tidy(text), spans=((start, end),), rule=signed.rule)]
    return []


def _tidy(text: str) -> str:
    """Give a name written in small letters its capitals."""
    return text.title() if text.islower() else text


def taken(context: Context) -> set[int]:
    """Return the tokens of the client's name and of guests of honour, so that "Rose" is read as no colour."""
    return context.once("tokens of names", _taken)


def _taken(context: Context) -> set[int]:
    own = {n for rule in _RULES for signed in rule(context) for n in range(signed.first, signed.last)}
    return own | {n for signed in honoured(context) for n in range(signed.first, signed.last)}


def honoured(context: Context) -> Iterator[Signed]:
    """Yield the names that belong to somebody else: "my daughter Daniela", "Ruby is turning 3", "Dave's 40th"."""
    for kind in ("relation", "honour"):
        for node in context.nodes.longest(kind):
            last = name_at(context, node.last, capital=True, most=2)
            if last is not None:
                yield Signed(node.last, last, "the guest of honour's name")
    for node in context.nodes.of("age", "occasion"):
        first = node.first - 1
        while first >= 0 and context.fold(first) in ("is", "s", "'", "will", "be"):
            first -= 1
        possessive = context.tokens[first].text.lower().endswith(("'s", "’s")) if first >= 0 else False
        if (node.value in ("turns", "birthday") or possessive) and name_at(
            context, first, capital=True, most=1
        ) == first + 1:
            yield Signed(first, first + 1, "the guest of honour's name")


def _own_line_signature(context: Context) -> Iterator[Signed]:
    """Read the line under "Cheers," or the first line of an unsigned block at the end of a mail."""
    lines = [line for line in context.lines if line.role in (SIGNATURE, SIGN_OFF)]
    for number, line in enumerate(lines):
        if line.role == SIGN_OFF:
            yield from _after_greeting(context, line.first, line.last)
        elif number <= 1 or lines[number - 1].role == SIGN_OFF:
            first = line.first + (1 if context.fold(line.first) in ("-", "~") else 0)
            yield from _alone(context, first, line.last, "the name under the greeting")


def _alone(context: Context, first: int, end: int, rule: str) -> Iterator[Signed]:
    """Yield a name that fills its line, but for kisses, a title after a comma or a mark."""
    while first < end and _is_title(context, first):
        first += 2 if context.fold(first + 1) == "." else 1
    if first >= end:
        return
    last = name_at(context, first, capital=False)
    if last is None or last > end:
        return
    kiss = context.fold(last) in KISSES
    rest = last + 1 if kiss else last
    job = rest < end and any(context.nodes.is_a("not_name", n) for n in range(rest, end))
    if rest >= end or ends_here(context, rest, _ENDING_MARKS) or job:
        yield Signed(first, last, rule)


def _is_title(context: Context, at: int) -> bool:
    return any(node.value == "title" for node in context.nodes.beginning("not_name", at))


def _after_greeting(context: Context, first: int, end: int) -> Iterator[Signed]:
    """Read "Thanks, Noor" and "Kind regards - Sal"."""
    at = max((n.last for n in context.nodes.beginning("sign_off", first)), default=first)
    while at < end and context.fold(at) in (",", "!", "-", ".", "*", ":", "~"):
        at += 1
    if at < end:
        yield from _alone(context, at, end, "the name after the greeting")


def _after_thanks(context: Context) -> Iterator[Signed]:
    """Read "thanks!! Jodi P." and "Cheers\\nSal" at the end of any text."""
    for node in context.nodes.longest("sign_off", "soft_sign_off"):
        at = node.last
        if node.kind == "soft_sign_off" and context.fold(at) not in (",", "\n", "\n\n"):
            continue
        while at < len(context.tokens) and (
            context.fold(at) in (",", "!", "-", ".", "*", "~", ":") or _is_break(context, at)
        ):
            at += 1
        last = name_at(context, at, capital=False, most=3) if at < len(context.tokens) else None
        marked = at > node.last
        if last is not None and _is_end(context, last) and (marked or context.tokens[at].text[:1].isupper()):
            yield Signed(at, last, "the name after the thanks")


def _is_break(context: Context, at: int) -> bool:
    return context.tokens[at].kind == NEWLINE


def _is_end(context: Context, at: int) -> bool:
    """Tell whether nothing but kisses, marks, a phone number or a signature follows."""
    rest = context.tokens[at : at + LONGEST_TAIL]
    words = (t for t in rest if t.fold not in _FILLING and t.fold not in KISSES and t.kind not in (NEWLINE, NUMBER))
    if next(words, None) is None and len(context.tokens) <= at + LONGEST_TAIL:
        return True
    return bool(rest) and rest[0].kind == NEWLINE and _below_is_signature(context, at)


def _below_is_signature(context: Context, at: int) -> bool:
    lines = [line for line in context.lines[-7:] if line.first > at]
    return all(line.role in (SIGNATURE, QUOTED) or line.last - line.first <= 8 for line in lines) and len(lines) <= 6


def _after_dash(context: Context) -> Iterator[Signed]:
    """Read "... 🙏 - Simone" at the end of a text."""
    for at, token in enumerate(context.tokens):
        if token.fold in ("-", "~"):
            first = at + 1
            while context.fold(first) == "-":
                first += 1
            last = name_at(context, first, capital=False, most=3) if first < len(context.tokens) else None
            spaced = at == 0 or context.tokens[at - 1].end < token.start or context.tokens[at - 1].kind == NEWLINE
            if last is not None and _is_end(context, last) and spaced and context.role(first) != QUOTED:
                yield Signed(first, last, "the name after a dash")


def _introduced(context: Context) -> Iterator[Signed]:
    """Read "this is Dana", "my name is noor", "Soy Lucía", "Priya here"."""
    for node in context.nodes.longest("self_intro"):
        if node.value == "from_me":
            yield from _before_here(context, node.first)
            continue
        words = " ".join(context.fold(n) for n in range(node.first, node.last))
        at = node.last + (1 if context.fold(node.last) == ":" else 0)
        sure = words in _PLAIN_INTRODUCTIONS or (at > node.last and words.endswith("name"))
        last = name_at(context, at, capital=not sure, most=3) if at < len(context.tokens) else None
        if last is None and at < len(context.tokens) and context.nodes.is_a("surely_from", at + 1):
            last = name_at(context, at, capital=False, most=1)
        if last is None or context.before(node.first, 1)[-1:] in (
            ("her",),
            ("his",),
            ("whose",),
            ("venue",),
            ("the",),
            ("baby",),
        ):
            continue
        if node.value == "it_is" and not _says_who(context, node.first, last):
            continue
        closed = ends_here(context, last, (",", *_ENDING_MARKS)) or context.nodes.is_a("end_of_name", last)
        if sure or closed:
            yield Signed(at, last, "an introduction")


def _says_who(context: Context, first: int, last: int) -> bool:
    """Tell whether "it's ..." gives a name: before a comma or "from", or after a greeting and before "at"."""
    greeted = first == 0 or context.fold(first - 1) in ("hi", "hey", "hello")
    sure = context.fold(last) == "," or context.nodes.is_a("surely_from", last)
    return sure or (greeted and context.fold(last) in ("at", "@", "w"))


def _before_here(context: Context, at: int) -> Iterator[Signed]:
    greeted = at > 1 and context.fold(at - 2) in ("hi", "hello", "hey", "its")
    person = context.nodes.is_a("name_colour", at - 1) or name_at(context, at - 1, capital=False, most=1) == at
    if greeted and person and is_word(context, at - 1):
        yield Signed(at - 1, at, "an introduction")
        return
    for first in range(max(0, at - 3), at):
        opens = first == context.sentence(first)[0] or context.fold(first - 1) in (
            ",",
            "its",
            "is",
            "hi",
            "hello",
            "hey",
            "-",
        )
        if opens and name_at(context, first, capital=True, most=3) == at:
            yield Signed(first, at, "an introduction")
            return


def _opening(context: Context) -> Iterator[Signed]:
    """Read "Marcus @ Loom & Co" at the start of a text."""
    last = name_at(context, 0, capital=True, most=2) if context.tokens else None
    if last is not None and context.fold(last) in ("@", "from", "with") and len(context.tokens) > last + 1:
        yield Signed(0, last, "a name with its company")


def _whole_text(context: Context) -> Iterator[Signed]:
    """Take a text of one or two unknown capitals as the name of who writes."""
    first = 0
    while first < len(context.tokens) - 1 and _is_title(context, first):
        first += 2 if context.fold(first + 1) == "." else 1
    last = name_at(context, first, capital=True, most=3) if context.tokens else None
    if last is not None and _is_end(context, last) and all(line.first == 0 for line in context.lines):
        yield Signed(first, last, "a text that is only a name")


def _over_a_job(context: Context) -> Iterator[Signed]:
    """Read a line that is only a name when a post or a phone number stands on the next line."""
    for line, below in zip(context.lines, context.lines[1:], strict=False):
        last = name_at(context, line.first, capital=True, most=3)
        whole = last == line.last and line.last - line.first > 1 and line.role != QUOTED
        jobs = any(
            n.value == "job" for at in range(below.first, below.last) for n in context.nodes.beginning("not_name", at)
        )
        if whole and last is not None and (jobs or context.tokens[below.first].kind == NUMBER):
            yield Signed(line.first, last, "a name over a post")


def _last_words(context: Context) -> Iterator[Signed]:
    """Read a lone "Noor" or "Kayleigh x" as the last sentence or line of a text that says more."""
    end = len(context.tokens)
    while end > 0 and (context.tokens[end - 1].kind == NEWLINE or context.fold(end - 1) in {"*", "!", *KISSES}):
        end -= 1
    for first in range(max(1, end - 4), end):
        before = context.tokens[first - 1]
        after_number = before.fold == "," and context.tokens[first - 2].kind == NUMBER
        if before.kind != NEWLINE and before.fold not in (".", "!", "?", "*", ")") and not after_number:
            continue
        last = name_at(context, first, capital=True, most=3)
        if last is not None and last in (end, end - 1) and _is_end(context, last) and first > 2:
            yield Signed(first, last, "a lone name at the end")
            return


_RULES: tuple[Callable[[Context], Iterator[Signed]], ...] = (
    _own_line_signature,
    _after_dash,
    _after_thanks,
    _introduced,
    _opening,
    _over_a_job,
    _last_words,
    _whole_text,
)
