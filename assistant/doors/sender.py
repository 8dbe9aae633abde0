"""Sends what waits: claim in one transaction, call the provider in none, write the outcome in a second."""

import logging
import random
import threading
from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from datetime import datetime, timedelta

from sqlalchemy.orm import Session

from assistant.doors.transports.base import LookUp, Refused, SendProblem, Transport, TryLater
from assistant.runtime import Runtime
from assistant.store import StoreUnavailable, outbox
from assistant.store.parcels import Parcel

log = logging.getLogger(__name__)

FIRST_WAIT, LONGEST_WAIT = 15.0, 1800.0
# A text that could not be sent for a day may no longer be true: a person decides.
TOO_OLD = timedelta(hours=24)
# The provider's list may lag behind its accepts by this much.
LIST_LAG = timedelta(minutes=5)
BATCH = 20
IDLE_SECONDS, TROUBLE_SECONDS = 1.0, 5.0


class Sender:
    """One worker of the outbox; several may run at once, in any number of processes."""

    def __init__(
        self, runtime: Runtime, transports: Mapping[str, Transport], *, chance: Callable[[], float] = random.random
    ) -> None:
        """``chance`` gives numbers from 0 to 1 that spread the waits."""
        self._store, self._now, self._ways, self._chance = runtime.store, runtime.now, transports, chance

    def _write(self) -> AbstractContextManager[Session]:
        """A claim and its outcome lock their own rows, so other writers need not wait for them."""
        return self._store.write(alone=False)

    def run(self, stop: threading.Event) -> None:
        """Send until told to stop; the message in hand is finished first, and no fault ends the work."""
        while not stop.is_set():
            wait = IDLE_SECONDS
            try:
                while self.run_once(BATCH, stop) == BATCH:
                    wait = 0.0
            except StoreUnavailable as problem:
                log.warning("sending pauses: %s", problem)
                wait = TROUBLE_SECONDS
            except Exception as problem:
                log.error("sending pauses after an unforeseen %s", type(problem).__name__)
                wait = TROUBLE_SECONDS
            stop.wait(wait)

    def run_once(self, limit: int = BATCH, stop: threading.Event | None = None) -> int:
        """Handle up to ``limit`` messages that are due, or fewer when told to stop, and return how many were."""
        with self._write() as session:
            outbox.stop_opted_out(session, self._now())
        for done in range(limit):
            if stop and stop.is_set():
                return done
            with self._write() as session:
                parcel = outbox.claim(session, self._now())
            if parcel is None:
                return done
            try:
                self._handle(parcel)
            except outbox.LeaseLost:
                log.warning("message %s was taken over by another sender", parcel.id)
        return limit

    def _handle(self, parcel: Parcel) -> None:
        way = self._ways.get(parcel.channel)
        if way is None:
            self._fail(parcel, Refused(f"there is no way out for {parcel.channel}: set one up, or allow the tray"))
        elif parcel.look_up:
            self._look_up(parcel, way)
        else:
            self._send(parcel, way)

    def _send(self, parcel: Parcel, way: Transport) -> None:
        try:
            provider_id = way.send(parcel)
        except Refused as problem:
            self._fail(parcel, problem)
        except TryLater as problem:
            self._repeat(parcel, problem)
        except Exception as problem:  # whatever it was, the provider may have taken the message
            why = str(problem) if isinstance(problem, SendProblem) else f"an unforeseen {type(problem).__name__}"
            self._doubt(parcel, way, why)
        else:
            self._sent(parcel, provider_id)

    def _look_up(self, parcel: Parcel, way: Transport) -> None:
        """Find out whether the provider has it; without certainty a person decides, never we."""
        try:
            provider_id = parcel.provider_id or self._found(parcel, way)
        except TryLater as problem:
            with self._write() as session:
                outbox.unsure(session, parcel, str(problem), self._after(parcel, problem.after))
            return
        if provider_id:
            self._sent(parcel, provider_id)
        else:
            self._not_found(parcel, way)

    def _found(self, parcel: Parcel, way: Transport) -> str | None:
        candidates = way.find(parcel)
        with self._store.read() as session:
            taken = outbox.known_ids(session, candidates)
        return next((one for one in candidates if one not in taken), None)

    def _not_found(self, parcel: Parcel, way: Transport) -> None:
        now = self._now()
        if way.look_up is LookUp.NONE:
            self._hold(parcel, "the mail server can't be asked. Ask the client, or look into your sent mail")
        elif way.look_up is LookUp.LATE and now < parcel.tried_at + LIST_LAG:
            with self._write() as session:
                outbox.unsure(session, parcel, "not in the provider's list yet", parcel.tried_at + LIST_LAG)
        elif way.look_up is LookUp.LATE and parcel.needs_yes:
            self._hold(parcel, "the provider's list does not show it. Look there, then say whether to send it again")
        else:
            with self._write() as session:
                outbox.later(session, parcel, "the provider does not have it; it is sent again", now)

    def _doubt(self, parcel: Parcel, way: Transport, why: str) -> None:
        if way.look_up is LookUp.NONE:
            self._hold(parcel, f"{why}. Ask the client, or look into your sent mail")
            return
        with self._write() as session:
            outbox.unsure(session, parcel, why, self._after(parcel, 0.0))

    def _repeat(self, parcel: Parcel, problem: TryLater) -> None:
        if self._now() - parcel.created_at > TOO_OLD:
            self._fail(parcel, Refused(f"{problem}; after a day it was given up, see whether it still holds"))
            return
        with self._write() as session:
            outbox.later(session, parcel, str(problem), self._after(parcel, problem.after))

    def _after(self, parcel: Parcel, least: float) -> datetime:
        """Waits double and are spread, so that many messages do not come back in one heap."""
        wait = min(FIRST_WAIT * 2 ** max(parcel.attempts - 1, 0), LONGEST_WAIT)
        return self._now() + timedelta(seconds=max(least, wait) * (1 + self._chance() / 2))

    def _sent(self, parcel: Parcel, provider_id: str) -> None:
        with self._write() as session:
            outbox.sent(session, parcel, provider_id, self._now())

    def _fail(self, parcel: Parcel, problem: Refused) -> None:
        with self._write() as session:
            if problem.opted_out and parcel.purpose == outbox.OPT_OUT_PURPOSE:
                outbox.needless(session, parcel, self._now())
            else:
                outbox.failed(session, parcel, str(problem), self._now(), opted_out=problem.opted_out)

    def _hold(self, parcel: Parcel, why: str) -> None:
        with self._write() as session:
            outbox.held(session, parcel, why, self._now())
