"""A person's own words in a mail: quoted history and signature set aside, the name under the mail kept."""

from typing import Any

from assistant.doors.mail.rules import MailRules

# The quote finder's patterns take the square of a line's length, so long lines wait outside under a short name.
_LONG_LINE, _MOST_LINES = 160, 1500
_MARK, _END = "\ue000", "\ue001"
_CONTACT_DIGITS = 7
_NAME_LINES = 2
_HEAD = "On 1/1 someone wrote:"


def own_words(text: str, rules: MailRules) -> str:
    """Return what the person wrote now. A mail that is nothing but history is returned whole: better too much."""
    lines = [line.rstrip().translate({ord(_MARK): None, ord(_END): None}) for line in text.expandtabs(4).split("\n")]
    lines = _plain_heads(_few_blanks(lines)[:_MOST_LINES], rules)
    short = [f"{_MARK}{number}{_END}" if len(line) > _LONG_LINE else line for number, line in enumerate(lines)]
    new = _without_history("\n".join(short))
    long = {f"{_MARK}{number}{_END}": line for number, line in enumerate(lines) if len(line) > _LONG_LINE}
    words = without_signature("\n".join(long.get(line, line) for line in new.split("\n")), rules).strip()
    return (words or text.strip())[: rules.longest_text]


def without_signature(text: str, rules: MailRules) -> str:
    """Cut contact lines after a closing or a signature mark, and lines a device added; names and postscripts stay."""
    kept: list[str] = []
    lines = text.split("\n")
    for number, line in enumerate(lines):
        rest = lines[number + 1 :]
        if line.strip() in ("--", "__"):  # RFC 3676, 4.3
            return "\n".join([*kept, *_names(rest)[:_NAME_LINES], *_postscript(rest, rules)])
        if rules.from_device(line):
            continue
        kept.append(line)
        if rules.closes(line) and any(map(str.strip, kept[:-1])):
            signed = [one for one in _names(rest) if not rules.from_device(one)]
            return "\n".join([*kept, *signed, *_postscript(rest, rules)])
    return "\n".join(kept)


def _names(lines: list[str]) -> list[str]:
    """Return the lines up to the first one with contact data; who signs stands there, and what she added."""
    found: list[str] = []
    for line in lines:
        if _contact(line):
            break
        found.append(line)
    return found


def _postscript(lines: list[str], rules: MailRules) -> list[str]:
    """Return the postscript, unless it stands among the names and was kept with them."""
    for number, line in enumerate(lines[len(_names(lines)) :], start=len(_names(lines))):
        if rules.postscript(line):
            return lines[number:]
    return []


def _contact(line: str) -> bool:
    low = line.lower()
    return "@" in low or "http" in low or "www." in low or sum(map(str.isdigit, low)) >= _CONTACT_DIGITS


def _few_blanks(lines: list[str]) -> list[str]:
    return [line for number, line in enumerate(lines) if line or number < 2 or lines[number - 1] or lines[number - 2]]


def _plain_heads(lines: list[str], rules: MailRules) -> list[str]:
    """Write each head of a quoted mail in the one form that the quote finder knows for sure."""
    plain: list[str] = []
    skip = 0
    for line, after in zip(lines, [*lines[1:], ""], strict=True):
        if skip:
            skip = 0
            continue
        count = rules.heads_history(line, after)
        skip = count - 1 if count else 0
        plain.append(_HEAD if count else line)
    return plain


def _without_history(text: str) -> str:
    """Return the newest reply, and under "> " quotes what was written below or between them."""
    found = _replies(text)
    first = [] if found and _is_history(found[0].headers) else found[:1]
    words = [_unquoted(reply.content) for reply in first]
    for reply in found[len(first) :]:
        if not _is_history(reply.headers):
            words.append(_unquoted(reply.content))
        elif any(line.startswith(">") for line in reply.content.split("\n")):
            words.append(_unquoted(reply.content.replace(reply.headers, "", 1)))
    return "\n".join(word for word in words if word.strip())


def _replies(text: str) -> list[Any]:
    from mailparser_reply import EmailMessage

    return list(EmailMessage(text=text, languages=["en", "es"], keep_hyphen_lists=True).read().replies)


def _is_history(head: str) -> bool:
    """A block such as "Date: / To:" without a "From:" is not quoted mail but a filled-in form."""
    if not head:
        return False
    starts = [line.lstrip("> *").lower() for line in head.split("\n")]
    form = all(":" in start for start in starts if start) and not head.rstrip().endswith((":", "-"))
    return not form or any(start.startswith(("from:", "de:")) for start in starts)


def _unquoted(text: str) -> str:
    """Leave out quoted lines, and the rules that programs draw above them."""
    return "\n".join(line for line in text.split("\n") if not (line.startswith(">") or _drawn(line)))


def _drawn(line: str) -> bool:
    rule = ("-----", "_____")
    return line.startswith(rule) and line.endswith(rule)
