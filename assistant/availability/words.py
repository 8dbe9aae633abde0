"""Days and hours in plain words for the designer."""

from datetime import date

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def long_day(day: date) -> str:
    """Return a day like ``Saturday 2027-10-16``."""
    return f"{_WEEKDAYS[day.weekday()]} {day.isoformat()}"


def hours(minutes: int) -> str:
    """Return minutes as hours without needless zeros, such as 2.75."""
    return f"{minutes / 60:.2f}".rstrip("0").rstrip(".")
