"""Text from outside made fit to keep: no character that a database or a header refuses, and a known length."""


def storable(text: str) -> str:
    """Replace NUL and lone surrogates, which PostgreSQL and UTF-8 can't hold, by the replacement character."""
    whole = text.encode("utf-16", "surrogatepass").decode("utf-16", "replace")  # joins pairs, replaces lone halves
    return whole.replace("\0", "\ufffd")


def one_line(text: str, most: int) -> str:
    """Return a header's text as one line without control characters, at most ``most`` characters."""
    plain = "".join(" " if ord(letter) < 32 or 127 <= ord(letter) < 160 else letter for letter in storable(text))
    return " ".join(plain.split())[:most]

