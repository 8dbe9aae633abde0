"""A whole program for a journey: real rules, store, doors, desk and sender; texts and mails come in signed."""

import secrets
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from bs4 import BeautifulSoup, Tag
from flask.testing import FlaskClient
from twilio.request_validator import RequestValidator
from werkzeug.test import TestResponse

from assistant.composition import open_runtime, transports_of
from assistant.config import Settings
from assistant.desk.passwords import Passwords
from assistant.doors.sender import Sender
from assistant.store.models import Designer
from assistant.web import create_app

ZONE = ZoneInfo("America/New_York")
PASSWORD = "lanterns over the river 9"
TOKEN = "token-made-for-these-tests-0001"


class House:
    """The program of one studio in a scratch folder, with a clock that stands still."""

    def __init__(self, folder: Path, url: str) -> None:
        self.folder, self.time = folder, datetime(2027, 3, 1, 10, 0, tzinfo=ZONE)
        settings = Settings(
            database_url=url,
            twilio_auth_token=TOKEN,
            twilio_number="+12025550100",
            mail_hook_secret=secrets.token_hex(32),
            secret_key=secrets.token_hex(32),
            tray=True,
            demo=True,
        )
        self.runtime = open_runtime(folder, settings=settings, now=lambda: self.time)
        self.app = create_app(self.runtime)
        self.sender = Sender(self.runtime, transports_of(self.runtime))
        with self.runtime.store.write() as session:
            session.add(
                Designer(
                    studio_id=self.runtime.studio_id,
                    email="marit@example.com",
                    name="Marit",
                    password_hash=Passwords(()).hash(PASSWORD),
                    created_at=self.time,
                )
            )

    def text(self, body: str, sender: str = "+12025550111", sid: str | None = None) -> TestResponse:
        """Let a signed text come in by the SMS door."""
        form = {
            "MessageSid": sid or f"SM{secrets.token_hex(16)}",
            "AccountSid": "AC" + "0" * 32,
            "From": sender,
            "To": "+12025550100",
            "Body": body,
            "NumMedia": "0",
        }
        signature = RequestValidator(TOKEN).compute_signature("http://localhost/doors/sms", form)
        return self.app.test_client().post("/doors/sms", data=form, headers={"X-Twilio-Signature": signature})

    def deliver(self) -> list[str]:
        """Let the sender work; return the texts that lie in the tray."""
        self.sender.run_once()
        return [file.read_text(encoding="utf-8") for file in sorted((self.folder / "tray").glob("*.txt"))]

    def desk(self) -> "Desk":
        """Return her browser, logged in."""
        return Desk(self.app.test_client())


class Desk:
    """Her browser without JavaScript: reads a page's form and posts it back."""

    def __init__(self, client: FlaskClient) -> None:
        self.client = client
        page = client.get("/desk/login").get_data(as_text=True)
        answer = self.send("/desk/login", page, {"email": "marit@example.com", "password": PASSWORD})
        assert answer.status_code == 303, answer.get_data(as_text=True)[:500]

    def page(self, path: str) -> str:
        """Return a page as text."""
        return self.client.get(path).get_data(as_text=True)

    def send(self, path: str, page: str, values: dict[str, Any]) -> TestResponse:
        """Post the form of ``page`` that leads to ``path``, with ``values`` put in."""
        fields = {**self.form(page, path), **values}
        return self.client.post(path, data=fields, headers={"Sec-Fetch-Site": "same-origin"})

    def form(self, page: str, path: str) -> dict[str, str]:
        """Return the fields of a form as a browser would send them untouched."""
        found = [form for form in BeautifulSoup(page, "html.parser").find_all("form") if _leads_to(form, path)]
        assert found, f"no form on the page leads to {path}"
        fields: dict[str, str] = {}
        for tag in found[0].find_all(["input", "textarea", "select"]):
            if tag.get("name") and tag.get("type") not in ("submit", "radio", "checkbox"):
                fields[str(tag["name"])] = _value(tag)
        return fields


def _leads_to(form: Tag, path: str) -> bool:
    return str(form.get("action") or path).partition("#")[0] == path


def _value(tag: Tag) -> str:
    if tag.name == "textarea":
        return tag.get_text().removeprefix("\n")
    if tag.name == "select":
        chosen = tag.find("option", selected=True) or tag.find("option")
        return str(chosen.get("value", "")) if isinstance(chosen, Tag) else ""
    return str(tag.get("value", ""))
