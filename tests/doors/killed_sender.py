"""A sender in a process of its own, to be killed: database URL, provider's address and hours to add to the clock."""

import sys
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

from assistant.config import Settings
from assistant.doors.sender import Sender
from assistant.doors.transports.twilio import Twilio
from assistant.runtime import Runtime
from assistant.store import Store

database_url, provider, hours = sys.argv[1], sys.argv[2], float(sys.argv[3])
runtime = Runtime(
    settings=Settings(database_url=database_url),
    store=Store(database_url),
    rooms=None,
    flow=None,
    now=lambda: datetime.now(UTC) + timedelta(hours=hours),
    studio_id=1,
    folder=Path(),
)
way = Twilio("AC" + "0" * 32, "12345", api_base=provider)
sender = Sender(runtime, {"sms": way})
print("ready", flush=True)
if "--all" in sys.argv:
    while sender.run_once(50):
        pass
else:
    sender.run(threading.Event())
