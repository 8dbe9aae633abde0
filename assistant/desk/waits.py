"""Slows down guessing: each failed login of an account doubles the wait before the next, from 1 s to 15 min.

A try is counted before the password is looked at and forgiven when it was right, so tries at the same time can't
slip past the count. A browser that logged in before has its own count: a stranger's guesses don't lock it out.
"""

from datetime import datetime, timedelta

from sqlalchemy import delete
from sqlalchemy.orm import Session

from assistant.store.models import LoginWait

LONGEST = timedelta(minutes=15)
_FORGET = timedelta(days=1)


def take_turn(session: Session, account: str, now: datetime) -> timedelta | None:
    """Count a try; return None when it may go on, else how long to wait (and the try is not counted)."""
    row = session.get(LoginWait, account, with_for_update=True)
    if row is None:
        _forget_old(session, now)
        row = LoginWait(account=account, failures=0)
        session.add(row)
    if row.wait_until and row.wait_until > now:
        return row.wait_until - now
    row.failures += 1
    row.wait_until = now + wait_after(row.failures)
    return None


def forgive(session: Session, account: str) -> None:
    """Forget the failed tries after a right password."""
    session.execute(delete(LoginWait).where(LoginWait.account == account))


def wait_after(failures: int) -> timedelta:
    """Return the wait after so many failures: 1 s, 2 s, 4 s ... 15 min."""
    return min(timedelta(seconds=2 ** min(failures - 1, 20)), LONGEST)


def _forget_old(session: Session, now: datetime) -> None:
    """Made-up account names don't pile up."""
    session.execute(delete(LoginWait).where(LoginWait.wait_until < now - _FORGET))
