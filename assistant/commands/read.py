"""`assistant read`: a client's messages in (JSON Lines), facts out; --why prints how each fact was read."""

import argparse
import sys
from collections.abc import Callable
from datetime import date
from typing import Any

from assistant.inquiry.merge import Sheet, merge
from assistant.jsonl import BadLine, answer_lines, open_inputs
from assistant.loading.reading import load_reader
from assistant.reading import Reader, Reading
from assistant.rulebook import Rulebook

CHANNELS = ("sms", "email", "paste")
DEFAULT_LOCALE = "en_US"
MOST_MESSAGES = 1000
Ask = Callable[[Sheet], list[str]]


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's options."""
    parser.add_argument("files", nargs="*", help="JSON Lines files; none or - is standard input")
    parser.add_argument("--rules", metavar="DIR", help="a studio's rule folder, which wins over the shipped rules")
    parser.add_argument("--why", action="store_true", help="print readings and reasons in words instead of JSON")


def run(args: argparse.Namespace) -> int:
    """Answer every line; 1 when one of them was bad."""
    book = Rulebook(*([args.rules] if args.rules else []))
    reader, ask = load_reader(book), _asking(book)
    if args.why:
        from assistant.commands.read_why import explain

        return explain(open_inputs(args.files), lambda request: _read(request, reader), sys.stdout)
    return answer_lines(open_inputs(args.files), lambda request: _answer(request, reader, ask), sys.stdout)


def _asking(book: Rulebook) -> Ask:
    from assistant.inquiry.asking import open_facts
    from assistant.loading.inquiry import load_asking

    rules = load_asking(book)
    return lambda sheet: open_facts(sheet.facts, rules, kind=sheet.kind)


def _answer(request: dict[str, Any], reader: Reader, ask: Ask) -> dict[str, Any]:
    _, readings, today = _read(request, reader)
    sheet = merge(readings, today=today)
    return {"id": request.get("id"), "kind": sheet.kind, "facts": sheet.facts, "ask": ask(sheet)}


def _read(request: dict[str, Any], reader: Reader) -> tuple[list[str], list[Reading], date]:
    """Return the messages, their readings and the studio's date.

    Raises BadLine naming the key and the remedy.
    """
    today = _today(request.get("today"))
    messages = request.get("messages")
    if not isinstance(messages, list) or not all(isinstance(text, str) for text in messages):
        raise BadLine('messages: not a list of texts; write "messages": ["first text", "second text"]')
    if len(messages) > MOST_MESSAGES:
        raise BadLine(f"messages: {len(messages)} of them; send at most {MOST_MESSAGES}")
    channel = request.get("channel", "sms")
    if channel not in CHANNELS:
        raise BadLine(f"channel: {channel!r} is not known; write one of {', '.join(CHANNELS)}")
    locale = request.get("locale") or DEFAULT_LOCALE
    if not isinstance(locale, str):
        raise BadLine(f"locale: {locale!r} is no text; write a locale such as en_US")
    return messages, [reader.read(text, today=today, channel=channel, locale=locale) for text in messages], today


def _today(text: Any) -> date:
    try:
        return date.fromisoformat(text)
    except (TypeError, ValueError):
        raise BadLine(f'today: {text!r} is no date; write the studio\'s date as "2027-03-01"') from None
