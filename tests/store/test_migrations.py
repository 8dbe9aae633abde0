"""The migrations make exactly the tables of the models, in one transaction that can be cut off anywhere."""

import threading

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import event, inspect

from assistant.store import Store
from assistant.store.models import Base


def test_migrations_and_models_agree(store: Store) -> None:
    with store.engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Base.metadata) == []


def test_migrating_again_changes_nothing(store: Store) -> None:
    store.migrate()
    with store.engine.connect() as connection:
        assert len(inspect(connection).get_table_names()) == len(Base.metadata.tables) + 1


@pytest.mark.parametrize("calls", [1, 5, 20, 40])
def test_a_migration_killed_half_way_leaves_nothing_and_is_simply_run_again(
    empty_database_url: str, calls: int
) -> None:
    store = Store(empty_database_url)
    seen = 0

    def cut(*_: object) -> None:
        nonlocal seen
        seen += 1
        if seen == calls:
            raise KeyboardInterrupt

    event.listen(store.engine, "before_cursor_execute", cut)
    with pytest.raises(KeyboardInterrupt):
        store.migrate()
    event.remove(store.engine, "before_cursor_execute", cut)
    with store.engine.connect() as connection:
        assert inspect(connection).get_table_names() == []
    store.migrate()
    with store.engine.connect() as connection:
        assert set(inspect(connection).get_table_names()) > set(Base.metadata.tables)
    store.close()


def test_several_that_start_at_once_migrate_once(empty_database_url: str) -> None:
    faults: list[BaseException] = []

    def start() -> None:
        store = Store(empty_database_url)
        try:
            store.migrate()
        except BaseException as fault:
            faults.append(fault)
        finally:
            store.close()

    threads = [threading.Thread(target=start) for _ in range(3)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
