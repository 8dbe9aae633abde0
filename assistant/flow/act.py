"""Carries a conversation on after a message or a correction: facts, day, price, next step, and doing that step."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from assistant.flow import decide
from assistant.flow.addresses import Addresses
from assistant.flow.day import day_verdict
from assistant.flow.drafts import drop_open, put_draft
from assistant.flow.errors import NothingToSend
from assistant.flow.memory import Memory, memory_of, remember
from assistant.flow.outgoing import put_outgoing
from assistant.flow.reread import Heard, Priced, hear, local_day, priced
from assistant.flow.rooms import Rooms
from assistant.inquiry.situation import Situation
from assistant.inquiry.step import Step, next_step
from assistant.store.models import Client, Inquiry, Task
from assistant.wording import Figures, Reply


def carry_on(
    session: Session,
    rooms: Rooms,
    inquiry: Inquiry,
    addresses: Addresses,
    now: datetime,
    *,
    by_designer: bool = False,
) -> Step:
    """Read the conversation anew, choose the next step and do it; ``by_designer`` never sends anything."""
    client = session.get_one(Client, inquiry.client_id)
    today = local_day(rooms, now)
    heard = hear(rooms, inquiry.messages, inquiry.corrections, today)
    money = _take_stock(session, rooms, inquiry, heard, today)
    client.name = str(inquiry.facts.get("name") or client.name or "")[:200] or None
    situation = _situation(inquiry, heard, client, today)
    step = _with_refusal(next_step(situation, rooms.conversation), money)
    inquiry.step = _step_json(step)
    memory = replace(memory_of(inquiry), left_open=step.left_open or memory_of(inquiry).left_open)
    remember(inquiry, memory)
    inquiry.version += 1
    inquiry.updated_at = now
    _Doer(session, rooms, inquiry, client, addresses, now, by_designer).do(step, memory)
    return step


def _take_stock(session: Session, rooms: Rooms, inquiry: Inquiry, heard: Heard, today: date) -> Priced:
    """Bring facts, price and the day's verdict up to date."""
    sheet = heard.sheet
    inquiry.kind, inquiry.facts, inquiry.sources = sheet.kind, sheet.facts, sheet.sources
    inquiry.language = heard.language or inquiry.language
    money = priced(rooms, sheet.facts, today)
    inquiry.quote = money.quote
    inquiry.verdict = day_verdict(session, rooms, inquiry, sheet.facts, money.quote, today)
    return money


def _situation(inquiry: Inquiry, heard: Heard, client: Client, today: date) -> Situation:
    memory = memory_of(inquiry)
    return Situation(
        kind=inquiry.kind,
        facts=inquiry.facts,
        today=today,
        texts=heard.texts,
        language=inquiry.language,
        channel=inquiry.channel,
        state=inquiry.state,
        opted_out=client.stopped_at is not None,
        handed_over=memory.handed_over,
        asked=memory.counts,
        last_asked=memory.last,
        left_open=memory.left_open,
        rounds=inquiry.rounds,
        verdict=inquiry.verdict,
        quote=inquiry.quote,
    )


def _with_refusal(step: Step, money: Priced) -> Step:
    """A draft that should bear a price cannot be made where pricing leaves it to the designer: hand it over instead."""
    if step.kind == "draft" and step.template in ("quote", "range") and money.quote is None:
        why = money.refusal or "nothing to price yet"
        return Step("hand_over", "hand_over", reasons=(f"the price is yours: {why}", *step.reasons))
    return step


def _step_json(step: Step) -> dict[str, Any]:
    return {
        "kind": step.kind,
        "template": step.template,
        "questions": [{"id": question.id, "why": question.why} for question in step.questions],
        "reasons": list(step.reasons),
        "assumptions": [assumption.id for assumption in step.assumptions],
        "confirm": list(step.confirm),
        "hand_over": step.hand_over.id if step.hand_over else None,
    }


class _Doer:
    """Does one step for one inquiry inside one transaction."""

    def __init__(
        self,
        session: Session,
        rooms: Rooms,
        inquiry: Inquiry,
        client: Client,
        addresses: Addresses,
        now: datetime,
        by_designer: bool,
    ) -> None:
        self.session, self.rooms, self.inquiry, self.client = session, rooms, inquiry, client
        self.addresses, self.now, self.by_designer = addresses, now, by_designer

    def do(self, step: Step, memory: Memory) -> None:
        """Do the step: the method of its kind."""
        {
            "ask": self._ask,
            "answer": self._ask,
            "draft": self._draft,
            "hand_over": self._hand_over,
            "opt_out": self._opt_out,
            "opt_in": self._opt_in,
            "help": self._plain,
            "accept": self._accept,
            "decline": self._decline,
            "silent": self._silent,
        }[step.kind](step, memory)

    def _ask(self, step: Step, memory: Memory) -> None:
        """Questions go at once where the rules allow it; else, or while she has the matter in hand, they wait."""
        reply = self._reply(step)
        drop_open(self.session, self.inquiry.id, self.now)
        if reply.may_go_alone and not self.by_designer and not self._is_hers():
            self._send(reply, step.kind)
            remember(self.inquiry, memory.after_asking(tuple(question.id for question in step.questions)))
            self.inquiry.rounds += bool(step.questions)
            self._state("asking")
        else:
            self._put_draft(reply, step, "ask")

    def _draft(self, step: Step, _memory: Memory) -> None:
        purpose = "draft" if step.template in ("quote", "range") else "day_reply"
        self._put_draft(self._reply(step), step, purpose)

    def _hand_over(self, step: Step, memory: Memory) -> None:
        """She gets a task, the client a word; where the rule says so and there is a price, a quote is written too."""
        drop_open(self.session, self.inquiry.id, self.now)
        if not self.by_designer:
            self._task("hand_over", "; ".join(step.reasons))
            reply = self._reply(step)
            if reply.may_go_alone:
                self._send(reply, "hand_over")
        if step.hand_over and step.hand_over.draft and self._can_be_quoted():
            template = "quote" if (self.inquiry.quote or {}).get("single_figure") else "range"
            self._put_draft(self._reply(replace(step, kind="draft", template=template)), step, "draft")
        remember(self.inquiry, memory.after_hand_over(step))
        self._state("drafted")

    def _can_be_quoted(self) -> bool:
        """Whether there is a price for a known day; whether the day fits is hers to see on the page."""
        return bool(self.inquiry.quote and self.inquiry.verdict)

    def _opt_out(self, step: Step, _memory: Memory) -> None:
        """Stop at once: one confirmation, then nothing; what still waits is held back by the sender's own check."""
        reply = self._reply(step)
        self._send(reply, "opt_out")
        self.client.stopped_at = self.now
        if step.reasons:
            self._task("call", "; ".join(step.reasons))
        drop_open(self.session, self.inquiry.id, self.now, "dropped")
        decide.note(self.session, self.inquiry, "client", "opted out", self.now, {})

    def _opt_in(self, step: Step, memory: Memory) -> None:
        self.client.stopped_at = None
        self.session.flush()
        self._plain(step, memory)

    def _plain(self, step: Step, _memory: Memory) -> None:
        if self.by_designer:
            return
        reply = self._reply(step)
        if reply.may_go_alone:
            self._send(reply, step.kind)
        else:
            self._put_draft(reply, step, step.kind)

    def _accept(self, step: Step, _memory: Memory) -> None:
        """A yes in words is a task for her, never a booking; she also gets an answer to send."""
        if not self.by_designer:
            self._task("accepted", "; ".join(step.reasons))
        self._put_draft(self._reply(step), step, "accept")

    def _decline(self, step: Step, memory: Memory) -> None:
        self._plain(step, memory)
        decide.close(self.session, self.inquiry.id, reason="the client said no", designer_id=None, now=self.now)

    def _silent(self, _step: Step, _memory: Memory) -> None:
        """Nothing is answered. A designer who has the matter in hand sees that something new was said."""
        if self.by_designer:
            return
        if self.inquiry.kind == "other" and self._is_first_message():
            decide.close(self.session, self.inquiry.id, reason="no inquiry", designer_id=None, now=self.now)
        elif self.client.stopped_at:
            self._task("call", "a client who asked for no more messages wrote again; only you may decide what follows")

    def _is_hers(self) -> bool:
        """Whether something of this inquiry waits for the designer: then nothing is asked behind her back."""
        waits = select(Task.id).where(Task.inquiry_id == self.inquiry.id, Task.done_at.is_(None)).limit(1)
        return self.session.scalar(waits) is not None

    def _is_first_message(self) -> bool:
        return sum(message.from_client for message in self.inquiry.messages) == 1

    def _reply(self, step: Step) -> Reply:
        figures = Figures(
            facts=self.inquiry.facts,
            today=local_day(self.rooms, self.now),
            quote=self.inquiry.quote,
            verdict=self.inquiry.verdict,
            introduced=self.inquiry.introduced,
        )
        return self.rooms.wording.reply(step, figures, language=self.inquiry.language, channel=self.inquiry.channel)

    def _send(self, reply: Reply, purpose: str) -> None:
        """Put a text that needs no yes into the outbox, for the next hour in which the studio may text."""
        try:
            put_outgoing(
                self.session,
                self.inquiry,
                self.addresses,
                subject=self._subject(reply),
                text=reply.text,
                purpose=purpose,
                due_at=self._next_open_hour(),
                now=self.now,
            )
        except NothingToSend as reason:
            self._task("call", str(reason))
            return
        self.inquiry.introduced = True

    def _put_draft(self, reply: Reply, step: Step, purpose: str) -> None:
        put_draft(
            self.session,
            self.inquiry,
            subject=self._subject(reply),
            text=reply.text,
            parts=reply.parts,
            purpose=purpose,
            rules_version=self.rooms.version,
            reasons=list(step.reasons),
            now=self.now,
        )
        self._state("drafted")

    def _subject(self, reply: Reply) -> str | None:
        """A mail answers under the client's own subject, so that it stays in their thread."""
        if self.inquiry.channel != "email":
            return None
        heard = self.inquiry.subject
        if not heard:
            return reply.subject
        return heard if heard.lower().startswith(("re:", "aw:")) else f"Re: {heard}"

    def _state(self, state: str) -> None:
        if self.inquiry.state not in ("accepted", "booked", "done"):
            self.inquiry.state = state

    def _task(self, kind: str, reason: str) -> None:
        """Add a task unless the same one is open."""
        same = select(Task.id).where(
            Task.inquiry_id == self.inquiry.id, Task.kind == kind, Task.reason == reason[:500], Task.done_at.is_(None)
        )
        if self.session.scalar(same) is None:
            self.session.add(
                Task(
                    studio_id=self.inquiry.studio_id,
                    inquiry_id=self.inquiry.id,
                    kind=kind,
                    reason=reason[:500],
                    created_at=self.now,
                )
            )

    def _next_open_hour(self) -> datetime:
        """Texts leave on their own only in the studio's sending hours; mail may leave at any hour."""
        hours = self.rooms.studio.sending_hours
        local = self.now.astimezone(self.rooms.zone)
        if self.inquiry.channel != "sms" or hours.allows(local.time()):
            return self.now
        day = local.date() if local.time() < hours.open_from else local.date() + timedelta(days=1)
        return datetime.combine(day, hours.open_from, self.rooms.zone)
