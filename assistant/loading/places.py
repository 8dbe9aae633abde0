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


def road_miles_from(studio_zip: str, road_factor: Decimal, near: Decimal) -> Callable[[str], Decimal | None]:
    """Return a function from a place's words to one-way road miles, None where no ZIP or town is named.

    Of towns with one name the nearest counts; named without its state, only a town within ``near`` miles does, since
    a farther one is more likely a namesake.
    """

    @cache
    def miles(place: str) -> Decimal | None:
        start = _zip_point(studio_zip)
        if start is None:
            return None
        points, sure = _points(place)
        found = min((road_miles(start, point, road_factor) for point in points), default=None)
        return found if found is not None and (sure or found <= near) else None

    return miles


def _points(place: str) -> tuple[list[Point], bool]:
    """Return the points a place may mean, and whether a ZIP code or a state makes it sure."""
    for code in reversed(ZIP.findall(place)):
        point = _zip_point(code)
        if point is not None:
            return [point], True
    return _town_points(place)


def _zip_point(code: str) -> Point | None:
    return _table()[0].get(code)


def _town_points(place: str) -> tuple[list[Point], bool]:
    """Find a town that is all of the place's words, or the last part of them before a state's two letters."""
    parts = [part.strip() for part in place.split(",") if part.strip()]
    state = parts.pop() if len(parts) > 1 and re.fullmatch(r"[A-Za-z]{2}", parts[-1]) else None
    words = WORDS.findall(parts[-1]) if parts else []
    if state is None and len(words) > 1 and len(words[-1]) == 2 and words[-1].isupper():
        state = words.pop()
    for count in range(min(LONGEST_NAME, len(words)), 0, -1):
        rows = _table()[1].get(" ".join(words[-count:]).lower(), [])
        if (state or len(parts) > 1 or count == len(words)) and rows:
            kept = [point for row_state, point in rows if state is None or row_state == state.upper()]
            return kept, state is not None
    return [], False


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
