"""What can keep the store from answering; the text is meant for the person who runs the studio's machine."""

import sqlite3

from sqlalchemy.exc import DBAPIError, InterfaceError, OperationalError


class StoreUnavailable(OSError):
    """The database can't be used now (gone, full, not writable); nothing was changed.

    An OSError, so that a command prints it as one plain line.
    """


class StoreBusy(StoreUnavailable):
    """Another writer held the database longer than we wait; nothing was changed, a repeat is safe."""


# SQLSTATE, PostgreSQL appendix A: lock not available, deadlock, serialization failure.
_BUSY_STATES = frozenset({"55P03", "40P01", "40001"})
# Classes: connection exception, insufficient resources, operator intervention, system error.
_GONE_CLASSES = frozenset({"08", "53", "57", "58"})
_BUSY_CODES = frozenset({sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED})
_GONE_CODES = frozenset({sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY})


def store_problem(problem: DBAPIError) -> StoreUnavailable | None:
    """Return the plain error for a fault of the database itself, or None when the fault is ours."""
    orig = problem.orig
    if isinstance(orig, sqlite3.Error):
        return _sqlite_problem(getattr(orig, "sqlite_errorcode", 0) & 0xFF)
    state = getattr(orig, "sqlstate", None)
    if state in _BUSY_STATES:
        return StoreBusy("the database is busy: try again in a moment")
    lost = state is None and isinstance(problem, OperationalError | InterfaceError)
    if lost or (state or "")[:2] in _GONE_CLASSES:
        return StoreUnavailable("the database does not answer: see that PostgreSQL runs and has room")
    return None


def _sqlite_problem(code: int) -> StoreUnavailable | None:
    if code in _BUSY_CODES:
        return StoreBusy("the database is busy: try again in a moment")
    if code in _GONE_CODES:
        return StoreUnavailable("the database file can't be written: see that the disk has room and the file is yours")
    return None
