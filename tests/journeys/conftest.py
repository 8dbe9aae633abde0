"""One house for each journey, on SQLite and on PostgreSQL."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from house import House


@pytest.fixture
def house(tmp_path: Path, database_url: str) -> Iterator[House]:
    """The whole program in a scratch folder."""
    house = House(tmp_path, database_url)
    yield house
    house.runtime.store.close()
