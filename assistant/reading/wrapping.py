"""Tells where a mail program broke a paragraph into lines, so that a name across two lines is still one name."""

WIDEST, NARROWEST = 80, 60  # hard-wrapped mail has lines of 60 to 80 characters (RFC 5322 2.1.1: at most 78)
RAGGED = 16  # lines of one paragraph differ by a long word at most
SENTENCE_ENDS = (".", "!", "?", ":", ";")


def wrapped_ends(text: str) -> frozenset[int]:
    """Return the places of the line ends that only wrap a paragraph.

    A line is wrapped when it is as long as the text's other long lines and the next line's first word would not have
    fitted; a line that ends a sentence is left alone.
    """
    if "\n" not in text:
        return frozenset()
    lines = text.split("\n")
    width = max((len(line) for line in lines if len(line) <= WIDEST), default=0)
    full = [line for line in lines if width - RAGGED <= len(line) <= WIDEST]
    if width < NARROWEST or len(full) < 2 or any(len(line) > WIDEST for line in lines):
        return frozenset()
    found: set[int] = set()
    place = 0
    for line, following in zip(lines, [*lines[1:], ""], strict=True):
        place += len(line)
        if _is_wrapped(line.rstrip(), following, width):
            found.add(place)
        place += 1
    return frozenset(found)


def _is_wrapped(line: str, following: str, width: int) -> bool:
    first = following.split(" ", 1)[0]
    runs_on = bool(first) and first[0].isalnum() and not line.endswith(SENTENCE_ENDS)
    return runs_on and len(line) >= width - RAGGED and len(line) + 1 + len(first) > width
