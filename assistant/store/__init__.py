"""The studio's memory: tables, migrations and the queries that need a name."""

from assistant.store.errors import StoreBusy, StoreUnavailable
from assistant.store.store import Store

__all__ = ["Store", "StoreBusy", "StoreUnavailable"]
