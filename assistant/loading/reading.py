"""Builds the Reader from rules/words."""

from assistant.reading.reader import Reader
from assistant.reading.vocabulary import Vocabulary, WordFile
from assistant.rulebook import Rulebook


def load_reader(book: Rulebook) -> Reader:
    """Return the reader with every word file of every language; they are read together, so mixed texts are fine."""
    files = {name: book.load(name, WordFile) for name in book.folder("words")}
    return Reader(Vocabulary(files))
