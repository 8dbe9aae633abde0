"""Without a provider each message lies once in the tray, readable, under a name that a repeat finds again."""

from pathlib import Path

import pytest
from cast import NOW, add_client, add_outgoing, outgoing
from doors_cast import Clock, make_runtime

from assistant.config import Settings
from assistant.doors.sender import Sender
from assistant.doors.transports import Tray, TryLater, open_transports
from assistant.store import Store, outbox


def test_a_text_lies_in_the_tray_as_a_readable_file(sqlite_store: Store, tmp_path: Path) -> None:
    row = add_outgoing(sqlite_store, add_client(sqlite_store), text="10 ft garland? 🎈", subject="Re: party")
    Sender(make_runtime(sqlite_store, Clock()), {"sms": Tray(tmp_path / "tray")}).run_once()
    (file,) = (tmp_path / "tray").iterdir()
    assert file.suffix == ".txt"
    text = file.read_text(encoding="utf-8")
    assert "To: +12025550101\n" in text
    assert "Subject: Re: party\n" in text
    assert text.endswith("\n\n10 ft garland? 🎈\n")
    assert outgoing(sqlite_store, row).state == "sent"


def test_a_crash_after_writing_leaves_one_file(sqlite_store: Store, tmp_path: Path) -> None:
    row, clock, tray = add_outgoing(sqlite_store, add_client(sqlite_store)), Clock(), Tray(tmp_path / "tray")
    with sqlite_store.write() as session:
        parcel = outbox.claim(session, NOW)
    assert parcel
    assert tray.find(parcel) == []
    tray.send(parcel)
    clock.turn(seconds=61)
    Sender(make_runtime(sqlite_store, clock), {"sms": tray}).run_once()
    assert outgoing(sqlite_store, row).state == "sent"
    assert len(list((tmp_path / "tray").iterdir())) == 1


def test_a_tray_that_cannot_be_written_says_where(sqlite_store: Store, tmp_path: Path) -> None:
    (tmp_path / "tray").write_text("in the way")
    add_outgoing(sqlite_store, add_client(sqlite_store))
    with sqlite_store.write() as session:
        parcel = outbox.claim(session, NOW)
    assert parcel
    with pytest.raises(TryLater, match="tray"):
        Tray(tmp_path / "tray").send(parcel)


def test_without_credentials_everything_goes_to_the_tray_and_nothing_if_it_is_off(tmp_path: Path) -> None:
    assert set(open_transports(Settings(database_url=""), tmp_path)) == {"sms", "email", "paste"}
    assert set(open_transports(Settings(database_url="", tray=False), tmp_path)) == {"paste"}


def test_credentials_open_the_real_ways(tmp_path: Path) -> None:
    settings = Settings(
        database_url="",
        twilio_account_sid="AC1",
        twilio_auth_token="t",
        twilio_number="+12025550199",
        smtp_host="mail.example.com",
        mail_address="studio@example.com",
    )
    ways = open_transports(settings, tmp_path)
    assert [type(ways[channel]).__name__ for channel in ("sms", "email", "paste")] == ["Twilio", "Smtp", "Tray"]
