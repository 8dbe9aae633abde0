"""Reads where, when and by how many a fact sheet has the job done."""

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from assistant.pricing.book import DesignerDecides, PriceBook
from assistant.pricing.dates import DatePrice, date_price, minutes_of_night
from assistant.pricing.given import FactWrong, Given, between, days_of, given, number, text, yes_or_no
from assistant.pricing.job import Assumed, Choice, JobPiece, note_inferred
from assistant.pricing.unknowns import Between, exactly


def miles_of(facts: Mapping[str, Any], book: PriceBook, assumed: list[Assumed]) -> tuple[Between, str]:
    """Return one-way road miles, and the fact that would narrow them."""
    fact, travel, unknown = given(facts, "miles"), book.prices.travel, book.prices.unknown
    value = fact.value if fact.known else list(fact.span) or None
    if value is not None:
        remedy = "give one-way road miles, or [least, most]"
        return between(value, "facts.miles", most=travel.most_miles, remedy=remedy), "miles"
    place = given(facts, "place").value
    if place is None:
        usual = unknown.place_not_said
        why = f"no place yet: {usual.low} to {usual.high} road miles one way"
        assumed.append(Assumed("miles", float(usual.likely), why))
        return usual, "place"
    if not isinstance(place, str):
        raise FactWrong(f"facts.place: {place!r:.40} is no text: write the venue, town or ZIP code")
    found = book.road_miles(place)
    if found is not None:
        why = f"straight line from ZIP {travel.studio_zip} to '{place}' x {travel.road_factor}; check with a route"
        assumed.append(Assumed("miles", float(found), why))
        return exactly(found), "miles"
    usual = unknown.place_not_found
    why = f"'{place}' is no ZIP code or town near the studio: {usual.low} to {usual.high} road miles one way"
    assumed.append(Assumed("miles", float(usual.likely), why))
    return usual, "miles"


def dates_of(
    fact: Given, book: PriceBook, today: date, assumed: list[Assumed]
) -> tuple[Choice[DatePrice], date | None]:
    """Return what the event's day adds for each day it may be, and the day itself when there is one."""
    days = [day for day in days_of(fact, "facts.event_date") if day >= today]
    if not days:
        why = "no day yet" if not fact.known else "the day is past"
        assumed.append(Assumed("event_date", None, f"{why}: priced as an ordinary day with time to spare"))
        return Choice((DatePrice(),), DatePrice()), None
    counted = Counter(date_price(day, today, book.prices.dates) for day in days)
    likely = counted.most_common(1)[0][0]
    if len(days) > 1:
        assumed.append(Assumed("event_date", None, f"{len(days)} days are possible: all are within the range"))
    note_inferred("event_date", fact, assumed)
    return Choice(tuple(counted), likely), days[0] if len(days) == 1 else None


def crew_of(fact: Given, book: PriceBook) -> int | None:
    """Return the number of installers, None where the rules decide."""
    if not fact.known:
        return None
    most = book.prices.crew.most
    remedy = f"give the number of installers, 1 to {most}"
    value = number(fact.value, "facts.crew", most=Decimal(most), remedy=remedy, above_zero=True)
    if value != int(value):
        raise FactWrong(f"facts.crew: {value} is no whole number: {remedy}")
    return int(value)


def late_strike_of(fact: Given, book: PriceBook) -> int | None:
    """Return the row of the rules that a take-down at this time of night falls under."""
    if not fact.known:
        return None
    clock = text(fact.value, "facts.strike_time") or ""
    try:
        when = minutes_of_night(clock)
    except ValueError as problem:
        raise FactWrong(f"facts.strike_time: {problem}") from None
    rows = [i for i, row in enumerate(book.prices.late_strike) if when >= minutes_of_night(row.after)]
    return max(rows, key=lambda i: book.prices.late_strike[i].adds, default=None)


def pick_up_of(fact: Given, facts: Mapping[str, Any], pieces: Sequence[JobPiece]) -> bool:
    """Tell whether the client fetches the pieces and sets them up alone.

    Raises DesignerDecides for a piece that takes two people or hangs, FactWrong where a take-down is asked as well.
    """
    if not fact.known or not yes_or_no(fact.value, "facts.pick_up"):
        return False
    if given(facts, "strike").value is True:
        raise FactWrong("facts.pick_up: picked up and taken down by us do not go together: leave one of them out")
    for piece in pieces:
        if not piece.work.can_be_picked_up:
            raise DesignerDecides(
                f"{piece.piece.label} is not for picking up: needed is a delivery, or a smaller piece"
            )
    return True


def window_of(facts: Mapping[str, Any], book: PriceBook) -> Decimal | None:
    """Return the minutes there are to install: as given, or from access to the start less what the rules keep free."""
    fact = given(facts, "window_minutes")
    if fact.known:
        remedy = "give the minutes from access to ready, 0 to 1440"
        return number(fact.value, "facts.window_minutes", most=Decimal(1440), remedy=remedy)
    access, start = (_minutes(given(facts, name), f"facts.{name}") for name in ("access_time", "event_time"))
    if access is None or start is None:
        return None
    if access > start:
        raise FactWrong("facts.access_time is after facts.event_time: give the time from which we may get in")
    return max(Decimal(0), start - access - book.prices.crew.window_keeps_minutes)


def _minutes(fact: Given, name: str) -> int | None:
    if not fact.known:
        return None
    try:
        return minutes_of_night(text(fact.value, name) or "")
    except ValueError as problem:
        raise FactWrong(f"{name}: {problem}") from None
