"""From a place in words to road miles, offline: ZIP codes and town names from the zipcodes package.

The package is opened at the first look-up only, which takes a quarter of a second.
"""

import re
import string
from collections.abc import Callable
from decimal import Decimal
from functools import lru_cache
from typing import Any

from assistant.pricing.distance import Point, road_miles

ZIP_AT_THE_END = re.compile(r"\b(\d{5})(?:-\d{4})?\W*$")  # elsewhere five figures are rather a house number
WORDS = re.compile(r"[A-Za-z][A-Za-z.']*")
LONGEST_NAME = 4
Row = dict[str, Any]


def road_miles_from(studio_zip: str, road_factor: Decimal, near: Decimal) -> Callable[[str], Decimal | None]:
    """Return a function from a place's words to one-way road miles, None where no ZIP or town is named.

    Of towns with one name the nearest counts; named without its state, only a town within ``near`` miles does, since
    a farther one is more likely a namesake.
    """

    @lru_cache(maxsize=1000)
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
    code = ZIP_AT_THE_END.search(place)
    point = _zip_point(code[1]) if code else None
    return ([point], True) if point else _town_points(place)


def _zip_point(code: str) -> Point | None:
    rows = _package().matching(code)
    return _point(rows[0]) if rows else None


def _town_points(place: str) -> tuple[list[Point], bool]:
    """Find a town that is all of the place's words, or the last part of them before a state's two letters."""
    parts = [part.strip() for part in place.split(",") if part.strip()]
    state = parts.pop() if len(parts) > 1 and re.fullmatch(r"[A-Za-z]{2}", parts[-1]) else None
    words = WORDS.findall(parts[-1]) if parts else []
    if state is None and len(words) > 1 and len(words[-1]) == 2 and words[-1].isupper():
        state = words.pop()
    for count in range(min(LONGEST_NAME, len(words)), 0, -1):
        rows = _towns(" ".join(words[-count:]))
        if (state or len(parts) > 1 or count == len(words)) and rows:
            kept = [_point(row) for row in rows if state is None or row["state"] == state.upper()]
            return kept, state is not None
    return [], False


def _towns(name: str) -> list[Row]:
    """Return the rows of towns called ``name``, as written or with capitals."""
    rows: list[Row] = _package().filter_by(city=name) or _package().filter_by(city=string.capwords(name))
    return rows


def _point(row: Row) -> Point:
    return float(row["lat"]), float(row["long"])


def _package() -> Any:
    import zipcodes

    return zipcodes
