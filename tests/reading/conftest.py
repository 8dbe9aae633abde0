"""The shipped reader, built once."""

from pathlib import Path
from typing import Any

import pytest
import yaml

from assistant.loading.reading import load_reader
from assistant.reading import Reader
from assistant.rulebook import Rulebook

CORPUS = Path(__file__).resolve().parent.parent / "corpus"


@pytest.fixture(scope="session")
def reader() -> Reader:
    """The reader with the shipped rules."""
    return load_reader(Rulebook())


def corpus(name: str) -> Any:
    """Return a corpus file's data; its days stay text."""
    return yaml.load((CORPUS / name).read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
