"""Plays the scenario: sets up an invented studio, posts its messages to the doors, prints what the program does."""

import secrets
import shutil
import threading
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import func, select

from assistant.config import Settings
from assistant.demo.clock import DemoClock
from assistant.demo.posting import Postman
from assistant.demo.printing import Line, print_answers, print_heading, print_message, print_standing
from assistant.demo.scenario import Conversation, Scenario
from assistant.doors.sender import Sender
from assistant.flow.drafts import open_draft
from assistant.paths import shipped
from assistant.runtime import Runtime
from assistant.store.models import Booking, Designer, Message, Outgoing

MARKER = "invented-demo-studio.txt"
BETWEEN_MESSAGES = 95.0


class NotADemoFolder(ValueError):
    """The folder holds something else than an earlier demo, so it is left alone."""


def fresh_folder(folder: Path) -> None:
    """Empty the demo's folder; only a folder that an earlier demo made is ever emptied."""
    if folder.exists() and any(folder.iterdir()):
        if not (folder / MARKER).is_file():
            raise NotADemoFolder(f"{folder} is not a folder of the demo: name another one with --studio")
        shutil.rmtree(folder)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / MARKER).write_text("Everything in this folder is invented. `assistant demo` makes it anew each time.\n")
    shutil.copytree(shipped("demo") / "rules", folder / "rules")


def demo_settings(folder: Path, scenario: Scenario, port: int) -> Settings:
    """Return settings with random secrets; the signing keys are real, only no provider knows them."""
    return Settings(
        database_url=f"sqlite:///{folder.resolve() / 'store.sqlite'}",
        twilio_auth_token=secrets.token_hex(16),
        twilio_number=scenario.studio_number,
        mail_hook_secret=secrets.token_hex(32),
        secret_key=secrets.token_hex(32),
        tray=True,
        host="127.0.0.1",
        port=port,
        demo=True,
    )


def demo_clock(scenario: Scenario, zone: ZoneInfo) -> DemoClock:
    """Return a clock that starts on the scenario's morning."""
    return DemoClock(datetime.fromisoformat(scenario.starts).replace(tzinfo=zone))


@dataclass
class Player:
    """Plays conversations against a running program and prints what became of them."""

    runtime: Runtime
    scenario: Scenario
    clock: DemoClock
    sender: Sender
    postman: Postman
    line: Line

    def furnish(self, password_hash: str) -> None:
        """Put the invented designer and the calendar's bookings into the store, as a studio in use would have them."""
        zone = self.runtime.rooms.zone
        with self.runtime.store.write() as session:
            session.add(
                Designer(
                    studio_id=self.runtime.studio_id,
                    email=self.scenario.designer_email,
                    name=self.scenario.designer_name,
                    password_hash=password_hash,
                    created_at=self.clock(),
                )
            )
            session.add_all(self._booking(entry, zone) for entry in self.scenario.bookings)

    def play(self) -> None:
        """Play every conversation of the scenario in order."""
        for number, conversation in enumerate(self.scenario.conversations, start=1):
            print_heading(number, conversation.title, self.line)
            self._converse(conversation)

    def _converse(self, conversation: Conversation) -> None:
        last_sent = 0
        inquiry_id = None
        for deliver in self._deliveries(conversation):
            before = self._last_message()
            deliver()
            self.clock.advance(BETWEEN_MESSAGES)
            inquiry_id, last_sent = self._show(before, last_sent)
        if conversation.approve and inquiry_id:
            self._approve(inquiry_id, last_sent)

    def _deliveries(self, conversation: Conversation) -> list[Any]:
        if conversation.channel == "email":
            return [lambda path=path: self.postman.mail(path.read_bytes()) for path in conversation.mails]

        def deliver(body: str) -> None:
            sid = self.postman.text(conversation.sender, body)
            if conversation.twice:
                self.postman.text(conversation.sender, body, sid)
                self.line("    (the provider delivered this text twice; it is one message)")

        return [lambda body=body: deliver(body) for body in conversation.messages]

    def _show(self, before: int, last_sent: int) -> tuple[int | None, int]:
        self.sender.run_once()
        with self.runtime.store.read() as session:
            messages = session.scalars(
                select(Message).where(Message.id > before, Message.direction == "in").order_by(Message.id)
            ).all()
            for message in messages:
                print_message(message, self.line)
                if message.automatic or message.inquiry_id is None:
                    self.line("    step     none: a machine wrote this, and machines are not answered")
                    continue
                print_standing(session, message.inquiry_id, self.line)
                last_sent = print_answers(session, message.inquiry_id, last_sent, self.line)
            return (messages[-1].inquiry_id if messages else None), last_sent

    def _approve(self, inquiry_id: int, last_sent: int) -> None:
        """Play the designer's yes to a waiting draft, just as the desk's button gives it."""
        with self.runtime.store.read() as session:
            draft = open_draft(session, inquiry_id)
            designer = session.scalars(select(Designer)).first()
        if draft is None or designer is None:
            return
        self.line(f"    {designer.name} looks at the draft and says yes to exactly this text")
        self.runtime.flow.approve(
            draft.id,
            fingerprint=draft.fingerprint,
            text=draft.text,
            subject=draft.subject,
            designer_id=designer.id,
        )
        self.sender.run_once()
        with self.runtime.store.read() as session:
            print_answers(session, inquiry_id, last_sent, self.line)

    def _last_message(self) -> int:
        with self.runtime.store.read() as session:
            return session.scalar(select(func.max(Message.id))) or 0

    def _booking(self, entry: dict[str, Any], zone: ZoneInfo) -> Booking:
        day = datetime.fromisoformat(entry["day"]).date()
        start, end = (datetime.combine(day, time.fromisoformat(entry[key]), zone) for key in ("start", "end"))
        return Booking(
            studio_id=self.runtime.studio_id,
            kind=entry.get("kind", "job"),
            title=entry["title"],
            day=day,
            start_at=start,
            end_at=end + (timedelta(minutes=1) if end.minute == 59 else timedelta()),
            zone=str(zone),
            crew_minutes=_minutes(entry.get("crew_hours")),
            build_minutes=_minutes(entry.get("build_hours")),
            zip=entry.get("zip"),
            created_at=self.clock(),
        )


def totals(runtime: Runtime) -> str:
    """Return one line that counts what the demo made."""
    with runtime.store.read() as session:
        heard = session.scalar(select(func.count()).select_from(Message).where(Message.direction == "in"))
        sent = session.scalar(select(func.count()).select_from(Outgoing).where(Outgoing.state == "sent"))
    return f"{heard} messages came in, {sent} went out into the tray; the rest waits for the designer."


def start_sender(sender: Sender) -> threading.Event:
    """Run the sender beside the web server; set the event to stop it."""
    stop = threading.Event()
    threading.Thread(target=sender.run, args=(stop,), name="sender", daemon=True).start()
    return stop


def _minutes(hours: Any) -> int | None:
    return None if hours is None else round(float(hours) * 60)
