"""From a place in words to road miles, offline: ZIP codes and town names from the zipcodes package.

The package is opened at the first look-up only; it takes a quarter of a second.
"""

import re
from collections.abc import Callable
from decimal import Decimal
from functools import cache
from typing import Any, cast

from assistant.pricing.distance import Point, road_miles

ZIP = re.compile(r"\b\d{5}\b")
WORDS = re.compile(r"[A-Za-z][A-Za-z.']*")
LONGEST_NAME = 4


def road_miles_from(studio_zip: str, road_factor: Decimal, most: Decimal) -> Callable[[str], Decimal | None]:
    """Return a function from a place's words to one-way road miles, None where no ZIP or town near is named.

    Of towns with one name the nearest counts; a town beyond ``most`` miles is taken for another of that name.
    """

    @cache
    def miles(place: str) -> Decimal | None:
        start = _zip_point(studio_zip)
        if start is None:
            return None
        found = _points(place)
        near = sorted(road_miles(start, point, road_factor) for point in found)
        return near[0] if near and near[0] <= most else None

    return miles


def _points(place: str) -> list[Point]:
    for code in reversed(ZIP.findall(place)):
        point = _zip_point(code)
        if point is not None:
            return [point]
    return _town_points(place)


def _zip_point(code: str) -> Point | None:
    return _table()[0].get(code)


def _town_points(place: str) -> list[Point]:
    """Find a town that is all of the place's words, or the last part of them before a state's two letters."""
    parts = [part.strip() for part in place.split(",") if part.strip()]
    state = parts.pop() if len(parts) > 1 and re.fullmatch(r"[A-Za-z]{2}", parts[-1]) else None
    words = WORDS.findall(parts[-1]) if parts else []
    if state is None and len(words) > 1 and len(words[-1]) == 2 and words[-1].isupper():
        state = words.pop()
    for count in range(min(LONGEST_NAME, len(words)), 0, -1):
        rows = _table()[1].get(" ".join(words[-count:]).lower(), [])
        if (state or len(parts) > 1 or count == len(words)) and rows:
            return [point for row_state, point in rows if state is None or row_state == state.upper()]
    return []


@cache
def _table() -> tuple[dict[str, Point], dict[str, list[tuple[str, Point]]]]:
    """Return points by ZIP code, and (state, point) rows by town name in lower case."""
    import zipcodes

    by_zip: dict[str, Point] = {}
    by_town: dict[str, list[tuple[str, Point]]] = {}
    rows: list[dict[str, Any]] = cast(Any, zipcodes).list_all()
    for row in rows:
        point = (float(row["lat"]), float(row["long"]))
        by_zip[row["zip_code"]] = point
        by_town.setdefault(row["city"].lower(), []).append((row["state"], point))
    return by_zip, by_town
