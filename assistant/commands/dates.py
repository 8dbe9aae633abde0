"""`assistant dates`: day, bookings and facts in (JSON Lines), verdict out."""

import argparse
import sys
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from assistant.availability import BookingWrong, CalendarRules, Needs, judge, needs_of_quote, read_bookings, zip_in
from assistant.availability.bookings import check_keys, read_day, read_time
from assistant.availability.planning import shorter
from assistant.jsonl import answer_lines, open_inputs
from assistant.loading.availability import load_calendar
from assistant.rulebook import Rulebook

FIELDS = ("id", "today", "bookings", "day", "start", "facts")


def arguments(parser: argparse.ArgumentParser) -> None:
    """Declare the command's options."""
    parser.add_argument("--rules", metavar="DIR", help="a folder of rule files that win over the shipped ones")
    parser.add_argument("files", nargs="*", metavar="FILE", help="JSON Lines files; standard input when none is named")


def run(args: argparse.Namespace) -> int:
    """Answer each line; exit status 1 if any was bad."""
    book = Rulebook(args.rules) if args.rules else Rulebook()
    rules = load_calendar(book)
    return answer_lines(open_inputs(args.files), answerer(rules, Pricing(book, rules)), sys.stdout)


def answerer(
    rules: CalendarRules, needs_of: Callable[[Mapping[str, Any], date], Needs | None]
) -> Callable[[dict[str, Any]], dict[str, Any]]:
    """Return the function that answers one request; ``needs_of`` prices the facts, or gives None where it can't."""

    def answer(request: dict[str, Any]) -> dict[str, Any]:
        check_keys(request, FIELDS)
        facts = _object(request.get("facts"), "facts")
        today = read_day(request.get("today"), "today")
        pieces = _pieces(facts)
        verdict = judge(
            read_day(request.get("day") or _value(facts, "event_date"), "day"),
            start=read_time(request.get("start") or _value(facts, "event_time"), "start"),
            needs=needs_of(facts, today),
            bookings=read_bookings(request.get("bookings"), rules.zone),
            rules=rules,
            today=today,
            zip_code=zip_in(_value(facts, "place")),
            access_from=read_time(_value(facts, "access_from"), "facts.access_from"),
            occasion=str(_value(facts, "occasion") or ""),
            setting=str(_value(facts, "setting") or ""),
            pieces=pieces,
            smaller=lambda share: needs_of({**facts, "pieces": shorter(pieces, share)}, today) if pieces else None,
        )
        return {"id": request.get("id"), **verdict.to_json()}

    return answer


class Pricing:
    """Prices facts for their hours; the price book is loaded when the first line needs it."""

    def __init__(self, book: Rulebook, rules: CalendarRules) -> None:
        self._book, self._rules = book, rules
        self._prices: Any = None

    def __call__(self, facts: Mapping[str, Any], today: date) -> Needs | None:
        """Return what the job takes, or None when the pieces are not known or the designer decides."""
        if not facts.get("pieces"):
            return None
        from assistant.loading.pricing import load_price_book
        from assistant.pricing import DesignerDecides, price

        self._prices = self._prices or load_price_book(self._book)
        try:
            quote = price(facts, self._prices, today=today).to_json()
        except DesignerDecides:
            return None
        return needs_of_quote(quote, _pieces(facts), self._rules)


def _pieces(facts: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Return the pieces that are written as objects; pricing names those that are not."""
    pieces = facts.get("pieces")
    return [piece for piece in pieces if isinstance(piece, Mapping)] if isinstance(pieces, list) else []


def _object(value: Any, where: str) -> Mapping[str, Any]:
    if value is None:
        return {}
    if not isinstance(value, Mapping):
        raise BookingWrong(f"{where}: an object is needed, not {value!r:.40}: write {{}} or leave it out")
    return value


def _value(facts: Mapping[str, Any], name: str) -> Any:
    fact = facts.get(name)
    return fact.get("value") if isinstance(fact, Mapping) else fact
