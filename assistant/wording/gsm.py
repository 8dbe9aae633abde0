"""Characters of a text message: the GSM 7-bit default alphabet and its extension (3GPP TS 23.038, section 6.2.1)."""

import unicodedata

BASIC = frozenset(
    "@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !\"#¤%&'()*+,-./0123456789:;<=>?"
    "¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà"
)
EXTENDED = frozenset("^{}\\[~]|€\f")  # each takes an escape and a septet

# Typographic characters that phones and keyboards put in, and what says the same in the small alphabet.
_SAME = {
    "‘": "'", "’": "'", "‚": "'", "“": '"', "”": '"', "„": '"', "«": '"', "»": '"', "–": "-", "—": "-", "−": "-",
    "…": "...", "×": "x", "½": "1/2", "¼": "1/4", "¾": "3/4", "″": '"', "′": "'", "•": "-", "·": "-", "\t": " ",
    "`": "'", "´": "'", "º": "o", "ª": "a",
}  # fmt: skip


def is_gsm(text: str) -> bool:
    """Tell whether every character of ``text`` stands in the small alphabet."""
    return all(char in BASIC or char in EXTENDED for char in text)


def plain(text: str) -> str:
    """Return ``text`` with the same meaning in the small alphabet as far as it goes; emoji and other scripts stay."""
    return "".join(char if char in BASIC or char in EXTENDED else _plainer(char) for char in text)


def _plainer(char: str) -> str:
    if char in _SAME:
        return _SAME[char]
    if unicodedata.category(char) == "Zs":
        return " "
    base = unicodedata.normalize("NFKD", char)[0]
    return base if base in BASIC and unicodedata.category(char)[0] == "L" else char
