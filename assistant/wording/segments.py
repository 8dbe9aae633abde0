"""How many parts a text message takes (3GPP TS 23.038 and TS 23.040, section 9.2.3.24, 8-bit reference)."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Literal

from assistant.wording.gsm import EXTENDED, is_gsm

Encoding = Literal["GSM-7", "UCS-2"]
WHOLE = {"GSM-7": 160, "UCS-2": 70}  # units of a message that stands alone
JOINED = {"GSM-7": 153, "UCS-2": 67}  # units of each part of a longer one: six octets go to the header


@dataclass(frozen=True)
class Segments:
    """A text as it is sent: its alphabet, its length in septets or UTF-16 units, and its parts."""

    encoding: Encoding
    units: int
    parts: tuple[str, ...]


def segments(text: str) -> Segments:
    """Split ``text`` into the parts that are sent; an escaped pair or a surrogate pair is never torn apart.

    An empty text is one empty part: something would be sent.
    """
    encoding: Encoding = "GSM-7" if is_gsm(text) else "UCS-2"
    widths = [_width(char, encoding) for char in text]
    units = sum(widths)
    if units <= WHOLE[encoding]:
        return Segments(encoding, units, (text,))
    cuts = [0, *_cuts(widths, JOINED[encoding]), len(text)]
    return Segments(encoding, units, tuple(text[start:end] for start, end in pairwise(cuts)))


def _width(char: str, encoding: Encoding) -> int:
    if encoding == "GSM-7":
        return 2 if char in EXTENDED else 1
    return 2 if ord(char) > 0xFFFF else 1


def _cuts(widths: list[int], room: int) -> Iterator[int]:
    """Yield the index of each character that begins a further part."""
    filled = 0
    for index, width in enumerate(widths):
        if filled + width > room:
            yield index
            filled = 0
        filled += width
