"""The fixture that all flow tests start from."""

import pytest
from flow_studio import Studio, shipped_rooms

from assistant.store import Store


@pytest.fixture
def studio(store: Store) -> Studio:
    """A studio at work over real rules, on SQLite and on PostgreSQL."""
    return Studio(store, shipped_rooms())
