"""One message through the whole way against a bare Flask + SQLAlchemy insert, in the same run.

    python tests/benchmarks/message_way.py [--messages N]

Both post signed SMS forms by Flask's test client into a fresh SQLite file with synchronous=FULL, one commit a message.
The floor checks the same signature and writes one row; the whole way reads, judges the day, prices, words and drafts.
Prints medians and the ratio; no figure is asserted.
"""

import argparse
import itertools
import secrets
import statistics
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from flask import Flask, request
from sqlalchemy import insert
from twilio.request_validator import RequestValidator

from assistant.composition import open_runtime
from assistant.config import Settings
from assistant.store import Store
from assistant.store.models import Message, Studio
from assistant.web import create_app

TOKEN = "a-token-made-for-this-run-only-0001"
TEXTS = (
    "how much for a garland on oct 14? pink n gold, its in a park",
    "Hi! Baby shower Sat Oct 16 at 1pm, Linden Hall, Springfield 62704, indoors. 10 ft garland in sage, ivory "
    "and gold. "
    "Budget $500 max. Thanks, Dana",
    "pair of columns 6.5 ft for a shop opening on Oct 21 at 10am, 118 Walnut Street Springfield 62704 inside, "
    "teal and white",
)


def main() -> None:
    """Run both ways alternately and print what they took."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--messages", type=int, default=150)
    count = parser.parse_args().messages
    with tempfile.TemporaryDirectory(prefix="bench") as name:
        folder = Path(name)
        whole, floor = whole_way(folder / "whole"), bare(folder / "floor.sqlite")
        took: dict[str, list[float]] = {"whole": [], "floor": []}
        for number in range(-10, count):
            for label, post in (("floor", floor), ("whole", whole)):
                began = time.perf_counter()
                status = post(number)
                spent = time.perf_counter() - began
                if status // 100 != 2:
                    raise SystemExit(f"{label} answered {status}")
                if number >= 0:
                    took[label].append(1000 * spent)
    report(took)


def whole_way(folder: Path) -> Callable[[int], int]:
    """Return a poster to the program itself; every message comes from a client of its own."""
    folder.mkdir()
    settings = Settings(
        database_url=f"sqlite:///{folder / 'store.sqlite'}",
        twilio_auth_token=TOKEN,
        twilio_number="+12025550100",
        mail_hook_secret=secrets.token_hex(32),
        secret_key=secrets.token_hex(32),
        demo=True,
    )
    runtime = open_runtime(folder, settings=settings, now=lambda: datetime(2027, 3, 1, 15, tzinfo=UTC))
    return poster(create_app(runtime), "/doors/sms")


def bare(path: Path) -> Callable[[int], int]:
    """Return a poster to a bare app: signature checked, one row committed."""
    store = Store(f"sqlite:///{path}")
    store.migrate()
    now = datetime(2027, 3, 1, 15, tzinfo=UTC)
    with store.write() as session:
        session.add(Studio(name="Floor", created_at=now))
    app, validator = Flask("floor"), RequestValidator(TOKEN)

    @app.post("/sms")
    def sms() -> tuple[str, int]:
        if not validator.validate(request.url, request.form, request.headers["X-Twilio-Signature"]):
            return "", 403
        row: dict[str, Any] = {
            "studio_id": 1,
            "direction": "in",
            "channel": "sms",
            "provider_id": request.form["MessageSid"],
            "sender": request.form["From"],
            "recipient": request.form["To"],
            "text": request.form["Body"],
            "automatic": False,
            "thread_ids": [],
            "received_at": now,
        }
        with store.write() as session:
            session.execute(insert(Message).values(**row))
        return "", 204

    return poster(app, "/sms")


def poster(app: Flask, path: str) -> Callable[[int], int]:
    """Return a function that posts the n-th signed text and gives the status."""
    client, validator, texts = app.test_client(), RequestValidator(TOKEN), itertools.cycle(TEXTS)

    def post(number: int) -> int:
        form = {
            "MessageSid": f"SM{number + 10:032x}",
            "AccountSid": "AC" + "0" * 32,
            "From": f"+1202555{100 + number % 100:04d}" if number % 2 else f"+1607555{100 + number % 100:04d}",
            "To": "+12025550100",
            "Body": next(texts),
            "NumMedia": "0",
        }
        signature = validator.compute_signature(f"http://localhost{path}", form)
        return client.post(path, data=form, headers={"X-Twilio-Signature": signature}).status_code

    return post


def report(took: dict[str, list[float]]) -> None:
    """Print median and 95th percentile of both, and the ratio of the medians."""
    for label, times in took.items():
        p95 = statistics.quantiles(times, n=20)[-1]
        print(f"{label:6} median {statistics.median(times):7.2f} ms   p95 {p95:7.2f} ms   ({len(times)} messages)")
    ratio = statistics.median(took["whole"]) / statistics.median(took["floor"])
    print(f"the whole way takes {ratio:.1f} times the bare insert")


if __name__ == "__main__":
    main()
