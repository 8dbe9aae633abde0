"""A sender killed with kill -9 at random moments: each message reaches the provider exactly once.

The provider runs in another process than the sender and keeps what it accepted, so its list is the judge.
"""

import os
import random
import subprocess
import sys
import time
from collections import Counter
from datetime import UTC, datetime, timedelta
from email.utils import format_datetime
from pathlib import Path

from cast import add_client, add_outgoing
from provider_stand_in import StandIn
from sqlalchemy import select

from assistant.store import Store
from assistant.store.models import Outgoing

# More kills, longer run: KILLS=100 pytest tests/doors/test_killed.py
KILLS = int(os.environ.get("KILLS", "4"))
MESSAGES = 10 + 5 * KILLS
SENDER = Path(__file__).with_name("killed_sender.py")


def start(store: Store, provider: StandIn, hours: float, *more: str) -> subprocess.Popen[str]:
    """Each sender starts an hour after the last, so that a lease it left has ended; the provider's clock goes along."""
    provider.today = lambda: format_datetime(datetime.now(UTC) + timedelta(hours=hours))
    url = store.engine.url.render_as_string(hide_password=False)
    process = subprocess.Popen(
        [sys.executable, str(SENDER), url, provider.base, str(hours), *more], stdout=subprocess.PIPE, text=True
    )
    assert process.stdout
    assert process.stdout.readline() == "ready\n"
    return process


def test_no_kill_loses_or_repeats_a_message(store: Store, stand_in: StandIn) -> None:
    chance = random.Random(11)
    rows = [
        add_outgoing(store, add_client(store), text=f"text {n}", recipient=f"+1202555{n:04}", due_at=datetime.now(UTC))
        for n in range(MESSAGES)
    ]
    for kill in range(KILLS):
        with start(store, stand_in, hours=kill) as process:
            time.sleep(chance.uniform(0.005, 0.08))
            process.kill()
    with start(store, stand_in, KILLS, "--all") as process:
        process.communicate(timeout=60)
    with store.read() as session:
        states = Counter(session.scalars(select(Outgoing.state)))
        looked_up = sum(claim > 1 for claim in session.scalars(select(Outgoing.claim)))
    assert Counter(message["body"] for message in stand_in.accepted) == {f"text {n}": 1 for n in range(MESSAGES)}
    assert states == {"sent": len(rows)}
    assert looked_up <= KILLS
