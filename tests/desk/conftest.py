"""A desk to test: an app with two designers, and a person who is logged in."""

import pytest
from desk_cast import Clock, FakeFlow, Person, add_designer, make_app
from flask import Flask

from assistant.desk.passwords import Passwords
from assistant.store import Store


@pytest.fixture(scope="session")
def password_hash() -> str:
    """The hash of PASSWORD, made once."""
    from desk_cast import PASSWORD

    return Passwords([]).hash(PASSWORD)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def flow(store: Store, clock: Clock) -> FakeFlow:
    return FakeFlow(store, clock)


@pytest.fixture
def app(store: Store, clock: Clock, flow: FakeFlow, password_hash: str) -> Flask:
    add_designer(store, password_hash)
    add_designer(store, password_hash, email="ines@example.com", name="Ines")
    return make_app(store, clock, flow)


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


