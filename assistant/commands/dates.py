"""`assistant dates`: day, bookings and facts in (JSON Lines), verdict out."""

import argparse
import sys
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from assistant.availability import BookingWrong, CalendarRules, Needs, judge, needs_of_hours, read_bookings
from assistant.availability.bookings import check_keys, read_day, read_time
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
    answer = answerer(load_calendar(book), Pricing(book))
    return answer_lines(open_inputs(args.files), answer, sys.stdout)


def answerer(
    rules: CalendarRules, needs_of: Callable[[Mapping[str, Any], date], Needs | None]
) -> Callable[[dict[str, Any]], dict[str, Any]]:
    """Return the function that answers one request; ``needs_of`` prices the facts, or gives None where it can't."""

    def answer(request: dict[str, Any]) -> dict[str, Any]:
        check_keys(request, FIELDS)
        facts = _object(request.get("facts"), "facts")
        today = read_day(request.get("today"), "today")
        day = read_day(request.get("day") or _value(facts, "event_date"), "day")
        verdict = judge(
            day,
            start=read_time(request.get("start") or _value(facts, "event_time"), "start"),
            needs=needs_of(facts, today),
            bookings=read_bookings(request.get("bookings"), rules.zone),
            rules=rules,
            today=today,
            zip_code=_zip(_value(facts, "place")),
        )
        return {"id": request.get("id"), **verdict.to_json()}

    return answer


class Pricing:
    """Prices facts for their hours; the price book is loaded when the first line needs it."""

    def __init__(self, book: Rulebook) -> None:
        self._book = book
        self._prices: Any = None

    def __call__(self, facts: Mapping[str, Any], today: date) -> Needs | None:
        """Return what the job takes, or None when the pieces are not known or the designer decides."""
        if not facts.get("pieces"):
            return None
        from assistant.loading.pricing import load_price_book
        from assistant.pricing import DesignerDecides, price

        self._prices = self._prices or load_price_book(self._book)
        try:
            return needs_of_hours(price(facts, self._prices, today=today).hours)
        except DesignerDecides:
            return None


def _object(value: Any, where: str) -> Mapping[str, Any]:
    if value is None:
        return {}
    if not isinstance(value, Mapping):
        raise BookingWrong(f"{where}: an object is needed, not {value!r:.40}: write {{}} or leave it out")
    return value


def _value(facts: Mapping[str, Any], name: str) -> Any:
    fact = facts.get(name)
    return fact.get("value") if isinstance(fact, Mapping) else fact


def _zip(place: Any) -> str:
    """Return the five-figure ZIP in a place, the last one if there are several; US addresses end with it."""
    words = str(place or "").replace(",", " ").split()
    return next((word for word in reversed(words) if len(word) == 5 and word.isdecimal()), "")
