"""Road miles for a first guess: the great circle between two points, stretched by a road factor."""

from decimal import Decimal
from math import asin, cos, radians, sin, sqrt

EARTH_RADIUS_KM = 6371.009  # mean radius of the WGS-84 ellipsoid (IUGG)
KM_PER_MILE = 1.609344  # international mile, exact by definition (1959)

Point = tuple[float, float]


def great_circle_km(start: Point, end: Point) -> float:
    """Return the haversine distance in km between two (latitude, longitude) points in degrees."""
    (lat1, lon1), (lat2, lon2) = ((radians(a), radians(b)) for a, b in (start, end))
    h = sin((lat2 - lat1) / 2) ** 2 + cos(lat1) * cos(lat2) * sin((lon2 - lon1) / 2) ** 2
    return 2 * EARTH_RADIUS_KM * asin(min(1.0, sqrt(h)))


def road_miles(start: Point, end: Point, road_factor: Decimal) -> Decimal:
    """Return one-way road miles, to a tenth: straight line times ``road_factor``."""
    straight = Decimal(repr(great_circle_km(start, end) / KM_PER_MILE))
    return (straight * road_factor).quantize(Decimal("0.1"))
