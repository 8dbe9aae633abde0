"""A read changes nothing; a write is all or nothing and alone; what was acknowledged is on disk."""

import threading
from datetime import UTC, datetime

import pytest
from sqlalchemy import delete, func, select, text
from sqlalchemy.exc import DBAPIError, IntegrityError

from assistant.store import Store, StoreBusy, StoreUnavailable
from assistant.store import store as store_module
from assistant.store.models import Client, Studio

NOW = datetime(2027, 3, 1, 15, 0, tzinfo=UTC)


def test_a_block_that_ends_well_is_kept_and_one_that_fails_leaves_no_trace(store: Store) -> None:
    with store.write() as session:
        session.add(Client(studio_id=1, created_at=NOW))
    with pytest.raises(ZeroDivisionError), store.write() as session:  # noqa: PT012
        session.add(Client(studio_id=1, created_at=NOW))
        session.flush()
        raise ZeroDivisionError
    with store.read() as session:
        assert session.scalar(select(func.count(Client.id))) == 1


def test_a_read_refuses_to_change_anything(store: Store) -> None:
    with pytest.raises((DBAPIError, StoreUnavailable)), store.read() as session:
        session.execute(delete(Studio))
    with store.read() as session:
        assert session.scalar(select(func.count(Studio.id))) == 1


def test_rows_stay_readable_after_their_block(store: Store) -> None:
    with store.write() as session:
        client = Client(studio_id=1, name="Dana", created_at=NOW)
        session.add(client)
    assert (client.id, client.name) == (1, "Dana")


def test_times_come_back_in_utc_and_a_time_without_zone_is_refused(store: Store) -> None:
    with store.write() as session:
        session.add(Client(studio_id=1, created_at=NOW))
    with store.read() as session:
        assert session.scalars(select(Client)).one().created_at.tzinfo is UTC
    with pytest.raises(Exception, match="give an aware datetime"), store.write() as session:
        session.add(Client(studio_id=1, created_at=datetime(2027, 3, 1)))


def test_a_client_of_no_studio_is_refused_by_the_database(store: Store) -> None:
    with pytest.raises(IntegrityError), store.write() as session:
        session.add(Client(studio_id=99, created_at=NOW))


def test_an_error_of_the_database_never_shows_what_people_wrote(store: Store) -> None:
    with pytest.raises(IntegrityError) as caught, store.write() as session:
        session.add(Client(studio_id=99, name="private words", created_at=NOW))
    assert "private words" not in str(caught.value)


def test_what_was_checked_in_a_write_stays_true_until_it_commits(store: Store) -> None:
    """Check then insert, eight at once: only one may find the place free (the classic double booking)."""
    barrier = threading.Barrier(8)

    def book() -> None:
        barrier.wait()
        with store.write() as session:
            if session.scalar(select(func.count(Client.id))) == 0:
                session.add(Client(studio_id=1, created_at=NOW))

    threads = [threading.Thread(target=book) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    with store.read() as session:
        assert session.scalar(select(func.count(Client.id))) == 1


def test_a_writer_that_waits_too_long_is_told_that_the_store_is_busy(
    database_url: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(store_module, "BUSY_MS", 50)
    first, second = Store(database_url), Store(database_url)
    with first.write(), pytest.raises(StoreBusy, match="try again"), second.write():
        pass
    with second.write() as session:
        session.add(Studio(name="after the wait", created_at=NOW))
    first.close()
    second.close()


def test_a_reader_is_not_held_up_by_a_writer(store: Store) -> None:
    with store.write() as session:
        session.add(Studio(name="not yet", created_at=NOW))
        session.flush()
        with store.read() as reader:
            assert reader.scalar(select(func.count(Studio.id))) == 1


def test_every_connection_waits_for_the_disk(store: Store) -> None:
    """SQLite manual, PRAGMA synchronous (2 = FULL); PostgreSQL manual, 20.5 (synchronous_commit, fsync)."""
    for begin in (store.read, store.write):
        with begin() as session:
            if store.engine.dialect.name == "sqlite":
                names = ("PRAGMA synchronous", "PRAGMA journal_mode", "PRAGMA foreign_keys")
                assert [session.scalar(text(name)) for name in names] == [2, "wal", 1]
            else:
                names = ("SHOW fsync", "SHOW synchronous_commit")
                assert [session.scalar(text(name)) for name in names] == ["on", "on"]


def test_a_database_that_is_not_there_is_said_plainly() -> None:
    store = Store("sqlite:////no/such/folder/store.sqlite")
    with pytest.raises(StoreUnavailable, match="can't be written"), store.write():
        pass
    gone = Store("postgresql://nobody@127.0.0.1:1/none")
    with pytest.raises(StoreUnavailable, match="does not answer"), gone.read() as session:
        session.scalar(text("SELECT 1"))
