"""Facts as form fields and back: what stands in each field, and what a field's text means."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, time
from decimal import Decimal, InvalidOperation
from typing import Any

from assistant.desk.facts import value_of
from assistant.desk.formats import plain_number, span_text

Form = Mapping[str, str]
SIZES = ("length", "width", "height")
MOST_PIECES, MOST_COLOURS = 12, 12
MOST_FEET, MOST_MILES = 300, 1000
MOST_BUDGET = 1_000_000
_RANGE = re.compile(r"\s*([0-9.,]+)\s*(?:(?:-|–|to)\s*([0-9.,]+)\s*)?")


class BadField(ValueError):
    """What a person typed can't be used; the text says why and how to write it."""


@dataclass(frozen=True)
class Limits:
    """What a form may choose from, the studio's date, and the pieces as they stood."""

    today: date
    occasions: frozenset[str]
    kinds: frozenset[str]
    settings: frozenset[str]
    densities: frozenset[str]
    pieces: tuple[Mapping[str, Any], ...] = ()


def shown(facts: Mapping[str, Any]) -> dict[str, str]:
    """Return the text of every field for the facts as they stand."""
    fields = {
        name: str(value_of(facts.get(name)) or "")
        for name in ("event_date", "event_time", "occasion", "setting", "place", "name", "density", "crew")
    }
    fields["colours"] = ", ".join(_colour(item) for item in value_of(facts.get("colours")) or [])
    fields["miles"] = span_text(value_of(facts.get("miles")))
    fields["strike"] = {True: "yes", False: "no"}.get(value_of(facts.get("strike")), "")
    low, high = budget_of(facts) or (None, None)
    fields |= {"budget_low": span_text(low), "budget_high": span_text(high)}
    finish = value_of(facts.get("finish")) or {}
    for part in ("mirror", "doubled"):
        share = finish.get(part)
        fields[part] = plain_number(Decimal(str(share)) * 100) if share else ""
    for row, piece in enumerate(pieces_of(facts)):
        fields |= _piece_fields(row, piece)
    return fields


def pieces_of(facts: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Return the pieces of the fact sheet."""
    return [piece for piece in value_of(facts.get("pieces")) or [] if isinstance(piece, Mapping)]


def budget_of(facts: Mapping[str, Any]) -> tuple[int | None, int | None] | None:
    """Return the client's budget in whole units of the currency, or None."""
    found = value_of(facts.get("budget"))
    if not isinstance(found, (list, tuple)) or len(found) != 2:
        return None
    low, high = found
    return (None, None) if low is None and high is None else (low, high)


def _colour(item: Any) -> str:
    return str(value_of(item) or "")


def _piece_fields(row: int, piece: Mapping[str, Any]) -> dict[str, str]:
    fields = {f"piece-{row}-kind": str(piece.get("kind", "")), f"piece-{row}-count": span_text(piece.get("count"))}
    return fields | {f"piece-{row}-{size}": span_text(piece.get(f"{size}_ft")) for size in SIZES}


def read_date(form: Form, limits: Limits) -> Any:
    """Return the date fact."""
    text = form.get("event_date", "").strip()
    if not text:
        return None
    try:
        day = date.fromisoformat(text)
    except ValueError:
        raise BadField("this is no day: choose it, or write it as 2027-10-16") from None
    if day < limits.today:
        raise BadField("this day is past: give today or a later one")
    if (day - limits.today).days > 3 * 366:
        raise BadField("this is more than three years off: see that the year is right")
    return stated(day.isoformat())


def read_time(form: Form, _limits: Limits) -> Any:
    """Return the start time fact."""
    text = form.get("event_time", "").strip()
    if not text:
        return None
    try:
        return stated(time.fromisoformat(text).strftime("%H:%M"))
    except ValueError:
        raise BadField("this is no time of day: write it as 15:00") from None


def choice(name: str, group: str) -> Callable[[Form, Limits], Any]:
    """Return a reader for a field with fixed choices."""

    def read(form: Form, limits: Limits) -> Any:
        text = form.get(name, "").strip()
        if text and text not in getattr(limits, group):
            raise BadField("this is none of the choices: pick one from the list")
        return stated(text) if text else None

    return read


def read_colours(form: Form, _limits: Limits) -> Any:
    """Return the list of colours."""
    words = [word.strip().lower() for word in re.split(r"[,;\n]", form.get("colours", "")) if word.strip()]
    if len(words) > MOST_COLOURS or any(len(word) > 40 for word in words):
        raise BadField(f"give up to {MOST_COLOURS} colours with commas between them, each 40 characters at most")
    return list(dict.fromkeys(words)) or None


def read_place(form: Form, _limits: Limits) -> Any:
    """Return the place fact."""
    text = short_text(form, "place", 200)
    return stated(text) if text else None


def read_name(form: Form, _limits: Limits) -> Any:
    """Return the client's name."""
    return short_text(form, "name", 100) or None


def read_budget(form: Form, _limits: Limits) -> Any:
    """Return [low, high] in whole units of the currency."""
    low, high = (_whole(form.get(name, ""), MOST_BUDGET) for name in ("budget_low", "budget_high"))
    if low is not None and high is not None and low > high:
        raise BadField("the first figure is above the second: swap them")
    return None if low is None and high is None else [low, high]


def read_pieces(form: Form, limits: Limits) -> Any:
    """Return the list of pieces; a row without a kind is taken away."""
    rows = [row for row in range(MOST_PIECES) if form.get(f"piece-{row}-kind", "").strip()]
    _orphans(form, rows)
    return [_piece(form, row, limits) for row in rows] or None


def _orphans(form: Form, rows: list[int]) -> None:
    """Sizes typed beside an empty new row would be lost without a word."""
    for row in range(MOST_PIECES):
        typed = any(form.get(f"piece-{row}-{size}", "").strip() for size in SIZES)
        if typed and row not in rows and f"piece-{row}-new" in form:
            raise BadField("one piece has a size but no kind: choose what it is")


def _piece(form: Form, row: int, limits: Limits) -> dict[str, Any]:
    kind = form[f"piece-{row}-kind"].strip()
    if kind not in limits.kinds:
        raise BadField("one piece is none of the kinds: pick it from the list")
    piece: dict[str, Any] = {"kind": kind, **_unshown(limits, row, kind)}
    count = _whole(form.get(f"piece-{row}-count", ""), 500, least=1)
    if count is not None:
        piece["count"] = count
    for size in SIZES:
        span = read_span(form.get(f"piece-{row}-{size}", ""), MOST_FEET)
        if span:
            piece[f"{size}_ft"] = span
    return piece


def _unshown(limits: Limits, row: int, kind: str) -> dict[str, Any]:
    """Return what the form does not show of a piece that stays the same kind, such as an arch's shape."""
    before = limits.pieces[row] if row < len(limits.pieces) else {}
    shown_keys = {"kind", "count", "from", "status", *(f"{size}_ft" for size in SIZES)}
    return {key: value for key, value in before.items() if key not in shown_keys} if before.get("kind") == kind else {}


def read_finish(form: Form, _limits: Limits) -> Any:
    """Return the shares of mirror and doubled balloons."""
    shares = {part: _whole(form.get(part, ""), 100) for part in ("mirror", "doubled")}
    given = {part: share / 100 for part, share in shares.items() if share}
    if sum(share or 0 for share in shares.values()) > 100:
        raise BadField("together they are over 100 %: lower one of them")
    return {"status": "stated", "value": given} if given else None


def read_miles(form: Form, _limits: Limits) -> Any:
    """Return the one-way road miles, one figure or a range."""
    span = read_span(form.get("miles", ""), MOST_MILES, least=Decimal(0))
    return stated(span[0] if span[0] == span[1] else span) if span else None


def read_strike(form: Form, _limits: Limits) -> Any:
    """Return whether the studio takes it down."""
    found = {"yes": True, "no": False}.get(form.get("strike", ""))
    return None if found is None else stated(found)


def read_crew(form: Form, _limits: Limits) -> Any:
    """Return the number of installers."""
    count = _whole(form.get("crew", ""), 20, least=1)
    return stated(count) if count else None


def read_span(text: str, most: int, least: Decimal = Decimal("0.1")) -> list[int | float] | None:
    """Return "8" as [8, 8] and "8-10" as [8, 10]; None for nothing."""
    if not text.strip():
        return None
    found = _RANGE.fullmatch(text)
    ends = [_number(part) for part in (found.groups() if found else (None,)) if part]
    if not ends or None in ends:
        raise BadField("write a number or a range: 8 or 8-10")
    low, high = ends[0] or Decimal(0), ends[-1] or Decimal(0)
    if not least <= low <= high <= most:
        raise BadField(f"give {plain_number(least)} to {most}, the smaller number first")
    return [_json_number(low), _json_number(high)]


def short_text(form: Form, name: str, most: int) -> str:
    """Return a one-line text without outer spaces."""
    text = " ".join(form.get(name, "").split())
    if len(text) > most:
        raise BadField(f"{len(text)} characters: use {most} at most")
    return text


def stated(value: Any) -> dict[str, Any]:
    """Return a fact that the designer gave."""
    return {"status": "stated", "value": value}


def _whole(text: str, most: int, least: int = 0) -> int | None:
    text = text.strip().lstrip("$").replace(",", "")
    if not text:
        return None
    number = _number(text)
    if number is None or number != number.to_integral_value() or not least <= number <= most:
        raise BadField(f"give a whole number from {least} to {most}")
    return int(number)


def _number(text: str) -> Decimal | None:
    try:
        number = Decimal(text.replace(",", "."))
    except InvalidOperation:
        return None
    return number if number.is_finite() else None


def _json_number(number: Decimal) -> int | float:
    return int(number) if number == number.to_integral_value() else float(number)
