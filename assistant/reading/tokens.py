"""A text as tokens: words, numbers, marks and line ends. Nothing is rewritten, so a span cuts the client's words."""

import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from assistant.reading.wrapping import wrapped_ends

WORD, NUMBER, MARK, NEWLINE = "word", "number", "mark", "newline"
MAX_CHARACTERS = 20_000
MOST_TOKENS = 5_000  # more than 20,000 characters of prose hold
SYMBOL = "*"
_APOSTROPHE = re.compile("['’ʼ`´]")
_DRAWN_OUT = re.compile(r"(.)\1{2,}")
KEPT_ENDINGS = {"re", "ll", "d"}

_PATTERN = re.compile(
    r"(?P<newline>[^\S\n]*\n\s*)"
    r"|(?P<number>\d{1,3}(?:,\d{3})+(?:\.\d+)?(?![\d])|\d+(?:\.\d+)*|[¼½¾⅓⅔])"
    r"|(?P<word>[^\W\d_](?:[^\W\d_]|[\u0300-\u036f]|['’ʼ`´](?=[^\W\d_]))*)"
    r"|(?P<mark>\S)"
)
_SAME_MARK = {
    **dict.fromkeys("’‘′`´ʼ", "'"),
    **dict.fromkeys("“”″«»", '"'),
    **dict.fromkeys("–—‐‑−", "-"),
    **dict.fromkeys("×✕✖", "x"),
}
_SYMBOL_CLASSES = {"So", "Sk", "Cf", "Cs", "Cc", "Co", "Cn", "Mn", "Me"}


@dataclass(frozen=True, slots=True)
class Token:
    """One word, number, mark or line end: the client's characters, and ``fold``, what the rules compare.

    ``fold`` is lower case, without accents and most apostrophes ("Mother's" -> "mothers", but "we're" stays);
    dashes and quotes have one form each, an emoji or control character is ``*``, a blank line is two line ends.
    """

    text: str
    fold: str
    start: int
    end: int
    kind: str


def tokenize(text: str) -> tuple[Token, ...]:
    """Return the tokens of the first MAX_CHARACTERS characters, at most MOST_TOKENS.

    A run of symbols is one token; a line end that only wraps a mail's paragraph is none.
    """
    found: list[Token] = []
    wrapped = wrapped_ends(text[:MAX_CHARACTERS])
    for match in _PATTERN.finditer(text, 0, min(len(text), MAX_CHARACTERS)):
        kind = match.lastgroup or MARK
        piece = match.group()
        if kind == NEWLINE and match.start() + piece.index("\n") in wrapped:
            continue
        fold = _fold(piece, kind)
        if fold == SYMBOL and found and found[-1].fold == SYMBOL:
            continue
        found.append(Token(piece, fold, match.start(), match.end(), kind))
        if len(found) == MOST_TOKENS:
            break
    return tuple(found)


def folded(phrase: str) -> tuple[str, ...]:
    """Return the folds of a phrase's tokens, as a vocabulary keeps them."""
    return tuple(token.fold for token in tokenize(phrase))


def _fold(piece: str, kind: str) -> str:
    if kind == WORD:
        return fold_word(piece)
    if kind == NEWLINE:
        return "\n\n" if piece.count("\n") > 1 else "\n"
    if kind == MARK:
        return _fold_mark(piece)
    return piece


@lru_cache(maxsize=4096)
def fold_word(word: str) -> str:
    """Return a word in lower case, accents and apostrophes dropped.

    The apostrophe of "we're", "we'll" and "we'd" stays: without it they would be other words ("were", "well", "wed").
    """
    parts = _APOSTROPHE.split(word)
    ending = fold_letters(parts[-1]) if len(parts) > 1 else ""
    if ending in KEPT_ENDINGS:
        return f"{fold_letters(''.join(parts[:-1]))}'{ending}"
    return fold_letters("".join(parts))


def fold_letters(letters: str) -> str:
    """Return letters in lower case without accents; drawn-out letters are one ("yesss", "stoppp")."""
    if _DRAWN_OUT.search(letters) and len(set(letters)) > 1:
        letters = _DRAWN_OUT.sub(r"\1", letters)
    if letters.isascii():
        return letters.lower()
    plain = unicodedata.normalize("NFKD", letters).casefold()
    return "".join(letter for letter in plain if not unicodedata.combining(letter))


def _fold_mark(mark: str) -> str:
    if mark in _SAME_MARK:
        return _SAME_MARK[mark]
    if not mark.isascii() and unicodedata.category(mark) in _SYMBOL_CLASSES:
        return SYMBOL
    return SYMBOL if mark < " " or mark == "\x7f" else mark
