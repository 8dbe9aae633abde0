"""A desk to test: an app with two designers, and a person who is logged in."""

import dataclasses
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from desk_cast import PASSWORD, Clock, FakeFlow, Person, add_designer, make_app
from flask import Flask
from sqlalchemy import create_engine, text

from assistant.desk.passwords import Passwords
from assistant.store import Store


@pytest.fixture
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """SQLite, since pages are the same everywhere; the modules whose statements matter ask for PostgreSQL too."""
    if getattr(request, "param", "sqlite") == "sqlite":
        shutil.copy(request.getfixturevalue("sqlite_model"), tmp_path / "store.sqlite")
        yield f"sqlite:///{tmp_path}/store.sqlite"
        return
    server, name = request.getfixturevalue("postgres"), f"t{uuid4().hex}"
    _sql(server.format("postgres"), f"CREATE DATABASE {name} TEMPLATE model STRATEGY FILE_COPY")
    yield server.format(name)
    _sql(server.format("postgres"), f"DROP DATABASE {name} WITH (FORCE)")


def _sql(url: str, statement: str) -> None:
    engine = create_engine(url, isolation_level="AUTOCOMMIT")
    with engine.connect() as connection:
        connection.execute(text(statement))
    engine.dispose()


@pytest.fixture(scope="session")
def quick_passwords() -> Passwords:
    """Hashes that cost little, for the many logins of these tests."""
    return Passwords([], memory_kib=8)


@pytest.fixture(scope="session")
def password_hash(quick_passwords: Passwords) -> str:
    """The hash of PASSWORD, made once."""
    return quick_passwords.hash(PASSWORD)


@pytest.fixture(scope="session")
def bare_app(quick_passwords: Passwords) -> Flask:
    """One app for all tests, so that templates are compiled once; ``app`` gives it a test's own store."""
    nothing: Any = None
    app = make_app(nothing, Clock(), nothing)
    app.extensions["desk"] = dataclasses.replace(app.extensions["desk"], passwords=quick_passwords)
    return app


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def flow(store: Store, clock: Clock) -> Any:
    return FakeFlow(store, clock)


@pytest.fixture
def app(bare_app: Flask, store: Store, clock: Clock, flow: Any, password_hash: str) -> Flask:
    add_designer(store, password_hash)
    add_designer(store, password_hash, email="ines@example.com", name="Ines")
    runtime = bare_app.extensions["runtime"]
    runtime.store, runtime.now, runtime.flow = store, clock, flow
    return bare_app


@pytest.fixture
def marit(app: Flask) -> Person:
    """A designer who is logged in."""
    person = Person(app)
    assert person.log_in().status_code == 303
    return person


@pytest.fixture
def ines(app: Flask) -> Person:
    """Her colleague, logged in on another browser."""
    person = Person(app)
    assert person.log_in("ines@example.com").status_code == 303
    return person
