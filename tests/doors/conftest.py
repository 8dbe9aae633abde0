"""What several door tests share."""

from collections.abc import Iterator

import pytest
from provider_stand_in import StandIn, running


@pytest.fixture
def stand_in() -> Iterator[StandIn]:
    """A provider that accepts texts and lists them."""
    with running() as server:
        yield server
