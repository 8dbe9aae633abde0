"""The flow's front: every way in which a message or a decision changes the store, each one transaction."""

import logging
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, TypeVar

from sqlalchemy.exc import IntegrityError, SQLAlchemyError
from sqlalchemy.orm import Session

from assistant.doors.inbound import Inbound
from assistant.flow import booking, decide
from assistant.flow.act import carry_on
from assistant.flow.addresses import Addresses
from assistant.flow.errors import DayGone, DecisionRefused
from assistant.flow.holds import release_expired
from assistant.flow.rooms import Rooms
from assistant.flow.threads import client_of, inquiry_of, known_client, known_message, start_inquiry, store_message
from assistant.store import Store, StoreUnavailable, outbox
from assistant.store.models import Correction, Draft, Inquiry, Message, Outgoing, Task

log = logging.getLogger(__name__)
Result = TypeVar("Result")
TRIES = 3


@dataclass(frozen=True)
class Receipt:
    """What became of an inbound message: its row, its inquiry (None when set aside), and whether it was known."""

    message_id: int
    inquiry_id: int | None
    duplicate: bool


class Flow:
    """Carries inbound messages and the designer's decisions through the rooms into the store."""

    def __init__(
        self, *, store: Store, rooms: Rooms, studio_id: int, addresses: Addresses, now: Callable[[], datetime]
    ) -> None:
        self.store, self.rooms, self.studio_id = store, rooms, studio_id
        self.addresses, self.now = addresses, now

    def receive(self, inbound: Inbound) -> Receipt:
        """Store one inbound message and what follows from it: answer, draft or task.

        A message known already changes nothing. Should reading it fail, the message is kept and becomes a task.
        """
        try:
            return self._in_one_go(lambda session: self._receive(session, inbound, keep_only=False))
        except (StoreUnavailable, SQLAlchemyError):
            raise  # the store itself is in trouble: the door answers so that the message comes again
        except Exception as fault:  # whatever it is, an inbound message is never lost
            log.error("a message could not be worked through (%s); it is kept for the designer", type(fault).__name__)
            return self._in_one_go(lambda session: self._receive(session, inbound, keep_only=True))

    def edit_facts(self, inquiry_id: int, changes: dict[str, Any], designer_id: int | None) -> None:
        """Set facts by hand (None takes a fact away); day, price and draft are made anew, nothing is sent."""

        def work(session: Session) -> None:
            inquiry = session.get_one(Inquiry, inquiry_id, with_for_update=True)
            heard = [message for message in inquiry.messages if message.from_client]
            if not heard:
                raise ValueError("this conversation has no message of the client yet: nothing can be corrected")
            inquiry.corrections.append(
                Correction(after_message_id=heard[-1].id, facts=changes, designer_id=designer_id, made_at=self.now())
            )
            session.flush()
            carry_on(session, self.rooms, inquiry, self.addresses, self.now(), by_designer=True)
            who = f"designer {designer_id}" if designer_id else "studio"
            decide.note(session, inquiry, who, "changed facts", self.now(), {"facts": sorted(changes)})

        self._in_one_go(work)

    def approve(self, draft_id: int, *, fingerprint: str, text: str, subject: str | None, designer_id: int) -> int:
        """Take her yes to exactly ``text`` and put it into the outbox; return the outgoing message's id.

        A quote for a known day holds that day. Raises AlreadyDecided, TextChanged, NothingToSend or DayGone; then
        nothing was sent, and after DayGone the draft has been made anew.
        """

        def work(session: Session) -> int:
            row = decide.approve(
                session,
                self.rooms,
                draft_id,
                shown=fingerprint,
                subject=subject,
                text=text,
                designer_id=designer_id,
                addresses=self.addresses,
                now=self.now(),
            )
            return row.id

        try:
            return self._in_one_go(work)
        except DayGone:
            self._in_one_go(lambda session: self._draft_anew(session, draft_id))
            raise

    def book(self, inquiry_id: int, *, designer_id: int, deposit_cents: int, paid_on: date) -> int:
        """Book a quoted job whose deposit came in; return its row in the calendar.

        Raises DayGone when the day has no room any more (its ``verdict`` holds other ways), or DecisionRefused; then
        nothing was changed.
        """
        deposit = booking.Deposit(deposit_cents, paid_on)
        return self._in_one_go(
            lambda session: booking.book(session, self.rooms, inquiry_id, deposit, designer_id, self.now()).id
        )

    def release_holds(self) -> int:
        """Release the holds that ran out; return how many. Every other call here does so too."""
        with self.store.write() as session:
            return release_expired(session, self.studio_id, self.now())

    def keep(self, draft_id: int, *, designer_id: int) -> None:
        """Put a draft aside for later."""
        self._in_one_go(lambda session: decide.keep(session, draft_id, designer_id=designer_id, now=self.now()))

    def answer_myself(self, inquiry_id: int, *, designer_id: int) -> None:
        """Drop the draft; she answers by her own means."""
        self._in_one_go(
            lambda session: decide.answer_myself(session, inquiry_id, designer_id=designer_id, now=self.now())
        )

    def write(self, inquiry_id: int, *, text: str, subject: str | None, designer_id: int) -> int:
        """Send her own words; return the outgoing message's id. Raises NothingToSend."""
        return self._in_one_go(
            lambda session: (
                decide.write_herself(
                    session,
                    inquiry_id,
                    subject=subject,
                    text=text,
                    designer_id=designer_id,
                    addresses=self.addresses,
                    now=self.now(),
                ).id
            )
        )

    def close(self, inquiry_id: int, *, reason: str, designer_id: int) -> None:
        """End an inquiry with a reason."""
        self._in_one_go(
            lambda session: decide.close(session, inquiry_id, reason=reason, designer_id=designer_id, now=self.now())
        )

    def settle(self, inquiry_id: int, outgoing_id: int, *, arrived: bool, designer_id: int) -> None:
        """Take her word on a held message: it arrived, or it did not and is sent again. Raises DecisionRefused."""

        def work(session: Session) -> None:
            row = session.get(Outgoing, outgoing_id)
            inquiry = session.get_one(Inquiry, inquiry_id, with_for_update=True)
            if row is None or row.inquiry_id != inquiry_id:
                raise DecisionRefused("this message does not belong to this inquiry: open the inquiry again")
            try:
                outbox.settle(session, outgoing_id, arrived=arrived, now=self.now())
            except LookupError as gone:
                raise DecisionRefused("someone has settled this message already: open the inquiry again") from gone
            decide.finish_tasks(session, inquiry_id, self.now(), designer_id)
            said = {"outgoing": outgoing_id, "arrived": arrived}
            decide.note(session, inquiry, f"designer {designer_id}", "settled", self.now(), said)

        self._in_one_go(work)

    def done_task(self, task_id: int, *, designer_id: int) -> None:
        """Mark a task as done; done twice changes nothing."""

        def work(session: Session) -> None:
            task = session.get_one(Task, task_id, with_for_update=True)
            if task.done_at is None:
                task.done_at, task.done_by = self.now(), designer_id

        self._in_one_go(work)

    def _draft_anew(self, session: Session, draft_id: int) -> None:
        inquiry = session.get_one(Inquiry, session.get_one(Draft, draft_id).inquiry_id, with_for_update=True)
        carry_on(session, self.rooms, inquiry, self.addresses, self.now(), by_designer=True)

    def _receive(self, session: Session, inbound: Inbound, *, keep_only: bool) -> Receipt:
        known = known_message(session, self.studio_id, inbound)
        if known:
            return Receipt(known.id, known.inquiry_id, duplicate=True)
        now = self.now()
        message = store_message(session, self.studio_id, inbound)
        if inbound.automatic:
            return Receipt(message.id, self._file_away(session, message, inbound), duplicate=False)
        client = client_of(session, self.studio_id, inbound, now)
        inquiry = inquiry_of(session, client, inbound) or start_inquiry(session, client, inbound, now)
        message.inquiry = inquiry
        session.flush()
        session.expire(inquiry, ["messages"])
        if keep_only:
            self._keep_for_her(session, inquiry, message, now)
        else:
            carry_on(session, self.rooms, inquiry, self.addresses, now)
        return Receipt(message.id, inquiry.id, duplicate=False)

    def _file_away(self, session: Session, message: Message, inbound: Inbound) -> int | None:
        """A machine's mail is shown in its sender's conversation, if there is one; it is never read nor answered."""
        client = known_client(session, self.studio_id, inbound)
        message.inquiry = inquiry_of(session, client, inbound) if client else None
        session.flush()
        return message.inquiry_id

    def _keep_for_her(self, session: Session, inquiry: Inquiry, message: Message, now: datetime) -> None:
        message.note = "kept as it came: the assistant could not work through it"
        inquiry.state, inquiry.updated_at = "drafted", now
        session.add(
            Task(
                studio_id=self.studio_id,
                inquiry_id=inquiry.id,
                kind="unread",
                reason="A message could not be worked through: please read and answer it yourself.",
                created_at=now,
            )
        )

    def _in_one_go(self, work: Callable[[Session], Result]) -> Result:
        """Run ``work`` in one transaction; once more if another process wrote the same key first."""
        for attempt in range(1, TRIES + 1):
            try:
                with self.store.write() as session:
                    release_expired(session, self.studio_id, self.now())
                    return work(session)
            except IntegrityError:
                if attempt == TRIES:
                    raise
        raise AssertionError("unreachable")
