"""How a text is laid out: its subject line, its body, its signature, and history that was quoted below."""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.reading.node import Nodes
from assistant.reading.tokens import NEWLINE, NUMBER, SYMBOL, WORD, Token

SUBJECT, BODY, SIGN_OFF, SIGNATURE, QUOTED = "subject", "body", "sign_off", "signature", "quoted"
SHORT_LINE = 7
LONGEST_SIGN_OFF = 6


@dataclass(frozen=True, slots=True)
class Line:
    """The tokens ``first`` to ``last`` (last excluded) of one line, and the part it plays."""

    first: int
    last: int
    role: str
    after_blank: bool


def lay_out(tokens: Sequence[Token], nodes: Nodes, channel: str) -> tuple[Line, ...]:
    """Return the lines of a text with their roles; a text message has only body lines unless it quotes."""
    bare = _lines(tokens)
    roles = [BODY] * len(bare)
    if bare and nodes.is_a("subject_label", bare[0][0]):
        roles[0] = SUBJECT
    forward = _mark_forward(bare, roles, tokens, nodes)
    _mark_quotes(bare, roles, tokens, nodes)
    if channel != "sms":
        for first, last in ((0, forward), (forward, len(bare))):
            _mark_signature([n for n in range(first, last) if roles[n] == BODY], bare, roles, tokens, nodes)
    return tuple(Line(first, last, role, blank) for (first, last, blank), role in zip(bare, roles, strict=True))


def spoken(text: str, tokens: Sequence[Token], lines: Sequence[Line]) -> str:
    """Return the text's lines that the person says now: no signature, no quoted history."""
    kept = [line for line in lines if line.role not in (SIGNATURE, QUOTED)]
    return "\n".join(text[tokens[line.first].start : tokens[line.last - 1].end] for line in kept)


def _lines(tokens: Sequence[Token]) -> list[tuple[int, int, bool]]:
    lines: list[tuple[int, int, bool]] = []
    first, blank = 0, True
    for index, token in enumerate(tokens):
        if token.kind == NEWLINE:
            if index > first:
                lines.append((first, index, blank))
            first, blank = index + 1, token.fold == "\n\n"
    if first < len(tokens):
        lines.append((first, len(tokens), blank))
    return lines


def _mark_forward(bare: list[tuple[int, int, bool]], roles: list[str], tokens: Sequence[Token], nodes: Nodes) -> int:
    """Mark the head of a forwarded mail as quoted; what it forwards is meant to be read. Return where it starts."""
    for number, (first, last, _) in enumerate(bare):
        words = [at for at in range(first, last) if tokens[at].kind == WORD]
        if words and len(words) <= LONGEST_SIGN_OFF and nodes.is_a("forward_label", words[0]):
            below = number + 1
            while below < len(bare) and nodes.is_a("header_label", bare[below][0]):
                below += 1
            roles[number:below] = [QUOTED] * (below - number)
            return below
    return len(bare)


def _mark_quotes(bare: list[tuple[int, int, bool]], roles: list[str], tokens: Sequence[Token], nodes: Nodes) -> None:
    below = False
    marked = any(tokens[first].fold == ">" for first, _, _ in bare)
    for number, (first, last, _) in enumerate(bare):
        below = below or nodes.is_a("history_label", first) or _says_wrote(tokens, first, last)
        if below or tokens[first].fold == ">":
            roles[number] = QUOTED
        below = below and not marked  # where lines carry ">", only those are history


def _says_wrote(tokens: Sequence[Token], first: int, last: int) -> bool:
    """Tell whether a line is a mail program's "On Tue, 2 Mar 2027, Dana wrote:"."""
    if last - first < 4 or tokens[first].fold not in ("on", "el") or tokens[last - 1].fold != ":":
        return False
    return tokens[last - 2].fold in ("wrote", "escribio")


def _mark_signature(
    own: list[int], bare: list[tuple[int, int, bool]], roles: list[str], tokens: Sequence[Token], nodes: Nodes
) -> None:
    for place, number in enumerate(own):
        first, last, _ = bare[number]
        rest = own[place + 1 :]
        if _is_sign_off(first, last, tokens, nodes) and _all_signature(rest, bare, tokens, nodes):
            roles[number] = SIGN_OFF
            for below in rest:
                roles[below] = SIGNATURE
            return
    _mark_unsigned(own, bare, roles, tokens, nodes)


def _is_sign_off(first: int, last: int, tokens: Sequence[Token], nodes: Nodes) -> bool:
    """Tell whether a line is only a greeting at the end ("Cheers,", "Yours faithfully", "-- ")."""
    if tokens[first].fold == "-" and first + 1 < len(tokens) and tokens[last - 1].fold == "-":
        return True
    words = [token for token in tokens[first:last] if token.kind == WORD]
    ended = tokens[last - 1].fold != "?"
    return ended and 0 < len(words) <= LONGEST_SIGN_OFF and nodes.is_a("sign_off", first)


def _all_signature(rest: list[int], bare: list[tuple[int, int, bool]], tokens: Sequence[Token], nodes: Nodes) -> bool:
    """Tell whether what follows a sign-off holds no postscript and starts with a short line."""
    if not rest:
        return True
    first, last, _ = bare[rest[0]]
    short = sum(token.kind == WORD for token in tokens[first:last]) <= SHORT_LINE
    return short and not any(nodes.is_a("postscript", bare[number][0]) for number in rest)


def _mark_unsigned(
    own: list[int], bare: list[tuple[int, int, bool]], roles: list[str], tokens: Sequence[Token], nodes: Nodes
) -> None:
    """Mark a last paragraph of short lines that tells no fact: a signature without a greeting."""
    starts = [place for place, number in enumerate(own) if bare[number][2]]
    if not starts or starts[-1] == 0:
        return
    block = own[starts[-1] :]
    if len(block) <= 5 and all(_could_sign(*bare[number][:2], tokens, nodes) for number in block):
        for number in block:
            roles[number] = SIGNATURE


def _could_sign(first: int, last: int, tokens: Sequence[Token], nodes: Nodes) -> bool:
    words = [token for token in tokens[first:last] if token.kind in (WORD, NUMBER) and token.fold != SYMBOL]
    facts = any(nodes.is_a(kind, at) for at in range(first, last) for kind in ("month", "weekday", "clock_half"))
    asks = tokens[last - 1].fold in ("?", "!")
    starts_high = tokens[first].text[:1].isupper() or tokens[first].kind != WORD or len(words) <= 2
    return len(words) <= SHORT_LINE and starts_high and not facts and not asks
