"""Can we do it on that day: bookings, hours, travel and closed days in; a verdict with its reason out."""

from assistant.availability.bookings import Booking, BookingWrong, read_bookings, zip_in
from assistant.availability.needs import Needs, needs_of_hours
from assistant.availability.planning import needs_of_quote
from assistant.availability.rules import CalendarRules
from assistant.availability.verdict import Verdict, judge

__all__ = [
    "Booking",
    "BookingWrong",
    "CalendarRules",
    "Needs",
    "Verdict",
    "judge",
    "needs_of_hours",
    "needs_of_quote",
    "read_bookings",
    "zip_in",
]
