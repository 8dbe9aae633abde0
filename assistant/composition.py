"""Puts the parts of one process together, from a studio's folder."""

import os
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import select

from assistant.config import Settings, load_settings
from assistant.runtime import Runtime
from assistant.store import Store
from assistant.store.models import Studio

if TYPE_CHECKING:
    from assistant.doors.transports import Transport
    from assistant.flow.addresses import Addresses
    from assistant.flow.rooms import Rooms


def utc_now() -> datetime:
    """Return the present, in UTC."""
    return datetime.now(UTC)


def open_runtime(
    folder: Path, settings: Settings | None = None, now: Callable[[], datetime] | None = None
) -> Runtime:
    """Open the studio in ``folder``: tables brought up to date, rules loaded, flow ready.

    Raises SettingsError, RuleFilesWrong or StoreUnavailable, each naming place and remedy.
    """
    from assistant.flow.flow import Flow
    from assistant.flow.rooms import load_rooms

    now = now or utc_now
    settings = settings or load_settings(folder, os.environ)
    rooms = load_rooms(folder)
    store = Store(settings.database_url)
    store.migrate()
    studio_id = _studio_id(store, rooms.studio.name, now())
    flow = Flow(store=store, rooms=rooms, studio_id=studio_id, addresses=_addresses(settings, rooms), now=now)
    return Runtime(
        settings=settings, store=store, rooms=rooms, flow=flow, now=now, studio_id=studio_id, folder=folder
    )


def transports_of(runtime: Runtime) -> Mapping[str, "Transport"]:
    """Return the ways out that the runtime's settings open."""
    from assistant.doors.transports import open_transports

    return open_transports(runtime.settings, runtime.folder)


def _addresses(settings: Settings, rooms: "Rooms") -> "Addresses":
    from assistant.doors.phone import e164
    from assistant.flow.addresses import Addresses

    return Addresses(
        sms=settings.twilio_number or e164(rooms.studio.phone), email=settings.mail_address or rooms.studio.email
    )


def _studio_id(store: Store, name: str, now: datetime) -> int:
    """Return the id of the folder's one studio, made when the store is new."""
    with store.write() as session:
        found = session.scalars(select(Studio).order_by(Studio.id)).first()
        if found is None:
            found = Studio(name=name[:200], created_at=now)
            session.add(found)
            session.flush()
        return found.id
