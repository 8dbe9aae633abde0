"""Builds the Reader from rules/words, rules/holidays.yaml and rules/date_roles.yaml."""

from assistant.reading.holidays import HolidayCalendar, HolidayRules
from assistant.reading.reader import Reader
from assistant.reading.settings import ReadingSettings, RoleWeights
from assistant.reading.vocabulary import Vocabulary, WordFile
from assistant.rulebook import Rulebook


def load_reader(book: Rulebook) -> Reader:
    """Return the reader with every word file of every language; they are read together, so mixed texts are fine."""
    files = {name: book.load(name, WordFile) for name in book.folder("words")}
    holidays = HolidayCalendar(book.load("holidays.yaml", HolidayRules).holidays)
    settings = ReadingSettings(holidays, book.load("date_roles.yaml", RoleWeights))
    return Reader(Vocabulary(files), settings)
