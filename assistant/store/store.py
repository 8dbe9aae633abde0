"""One database behind two doors: ``read()`` can't change anything, ``write()`` is alone and all or nothing."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, text
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from assistant.store.errors import store_problem

_MIGRATIONS = Path(__file__).parent / "migrations"
BUSY_MS = 5000
# Any number does; it must only be the same in every process that writes to this database.
_WRITER_LOCK = text("SELECT pg_advisory_xact_lock(7264)")


class Store:
    """A SQLite file or a PostgreSQL database, by SQLAlchemy URL.

    ``write()`` holds the only write lock from its first line: on SQLite by BEGIN IMMEDIATE, on PostgreSQL by an
    advisory lock, so what a block checked stays true until it commits. ``write(alone=False)`` leaves the lock out on
    PostgreSQL, for work that locks its own rows. A lock held longer than 5 s raises StoreBusy.
    """

    def __init__(self, url: str, *, echo: bool = False) -> None:
        """Open nothing yet; the first block connects."""
        self.engine = _engine(make_url(url), echo)
        self._reader = self.engine.execution_options(postgresql_readonly=True, begin_as="read")
        self._writer = self.engine.execution_options(begin_as="write")

    @contextmanager
    def read(self) -> Iterator[Session]:
        """Yield a session that sees one state of the store and can't change it."""
        with _plain_errors(), Session(self._reader, expire_on_commit=False) as session:
            yield session

    @contextmanager
    def write(self, *, alone: bool = True) -> Iterator[Session]:
        """Yield a session that is committed when the block ends well, and otherwise leaves no trace."""
        with _plain_errors(), Session(self._writer, expire_on_commit=False) as session, session.begin():
            _take_lock(session.connection(), alone)
            yield session

    def migrate(self) -> None:
        """Bring the tables to the newest shape, in one transaction: a killed run changes nothing."""
        from alembic import command
        from alembic.config import Config

        config = Config()
        config.set_main_option("script_location", str(_MIGRATIONS).replace("%", "%%"))
        with _plain_errors(), self._writer.begin() as connection:
            _take_lock(connection, alone=True)
            config.attributes["connection"] = connection
            command.upgrade(config, "head")

    def close(self) -> None:
        """Give all connections back."""
        self.engine.dispose()


def _engine(url: URL, echo: bool) -> Engine:
    """Return an engine whose errors never hold the parameters, since those are people's messages."""
    if url.get_backend_name() == "sqlite":
        engine = create_engine(url, echo=echo, hide_parameters=True, connect_args={"timeout": BUSY_MS / 1000})
        event.listen(engine, "connect", _prepare_sqlite)
        event.listen(engine, "begin", _begin_sqlite)
        return engine
    patience = {"options": f"-c lock_timeout={BUSY_MS} -c synchronous_commit=on", "connect_timeout": 5}
    return create_engine(url, echo=echo, hide_parameters=True, pool_pre_ping=True, connect_args=patience)


def _prepare_sqlite(connection: sqlite3.Connection, _record: object) -> None:
    """Make SQLite keep what it acknowledged through a power cut, and check foreign keys."""
    connection.isolation_level = None  # we begin transactions ourselves, see _begin_sqlite
    for pragma in (f"busy_timeout={BUSY_MS}", "journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON"):
        connection.execute(f"PRAGMA {pragma}")


def _begin_sqlite(connection: Connection) -> None:
    """Take the write lock at once for a write: a later upgrade of a read would fail without waiting."""
    wanted: Any = connection.get_execution_options().get("begin_as", "plain")
    connection.exec_driver_sql(f"PRAGMA query_only={'ON' if wanted == 'read' else 'OFF'}")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if wanted == "write" else "BEGIN DEFERRED")


def _take_lock(connection: Connection, alone: bool) -> None:
    if alone and connection.dialect.name == "postgresql":
        connection.execute(_WRITER_LOCK)


@contextmanager
def _plain_errors() -> Iterator[None]:
    try:
        yield
    except DBAPIError as problem:
        plain = store_problem(problem)
        if plain is None:
            raise
        raise plain from problem
