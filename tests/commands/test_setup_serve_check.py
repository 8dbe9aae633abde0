"""A studio from nothing to its first stored text: setup, check, serve, and a clean end."""

import os
import re
import signal
import stat
import subprocess
import sys
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlencode

import pytest
from sqlalchemy import select
from twilio.request_validator import RequestValidator

from assistant.cli import main
from assistant.config import load_settings
from assistant.store import Store
from assistant.store.models import Message, SetupLink

FORM = {
    "MessageSid": "SM00000000000000000000000000000001",
    "From": "+12025550101",
    "To": "+12025550199",
    "Body": "Hi, need a 10 ft garland on October 16, 2027",
    "NumMedia": "0",
}


@pytest.fixture(autouse=True)
def same_umask() -> Iterator[None]:
    before = os.umask(0o022)
    yield
    os.umask(before)


@pytest.fixture
def folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    assert main(["setup", "--studio", str(tmp_path / "studio")]) == 0
    capsys.readouterr()
    return tmp_path / "studio"


def test_setup_makes_strong_secrets_that_only_the_owner_can_read(folder: Path) -> None:
    settings = load_settings(folder, {})
    assert len(settings.secret_key or "") == len(settings.mail_hook_secret or "") == 64
    assert settings.secret_key != settings.mail_hook_secret
    for name in ("settings.env", "store.sqlite"):
        assert stat.S_IMODE((folder / name).stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700


def test_setup_again_keeps_everything_and_gives_a_new_link(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (folder / "settings.env").read_bytes()
    assert main(["setup", "--studio", str(folder)]) == 0
    link = re.search(r"http://127\.0\.0\.1:8080/desk/setup/(\S{20,})", capsys.readouterr().out)
    assert link
    assert (folder / "settings.env").read_bytes() == before
    store = Store(load_settings(folder, {}).database_url)
    with store.read() as session:
        hashes = session.scalars(select(SetupLink.token_hash)).all()
    store.close()
    assert len(hashes) == 2
    assert link[1] not in hashes, "only a hash of the link is kept"


def test_rule_files_are_copied_only_when_asked_for(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert not (folder / "rules").exists()
    assert main(["setup", "--studio", str(folder), "--rules", "prices.yaml"]) == 0
    assert (folder / "rules" / "prices.yaml").is_file()
    assert main(["setup", "--studio", str(folder), "--rules", "prices.yaml"]) == 2
    assert main(["setup", "--studio", str(folder), "--rules", "../pyproject.toml"]) == 2
    assert "there is no shipped rule file" in capsys.readouterr().err


def test_check_numbers_its_findings_and_fails_only_on_what_stops(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", "--studio", str(folder)]) == 0
    assert "1. ASSISTANT_PUBLIC_URL is not set" in capsys.readouterr().out
    (folder / "settings.env").write_text("ASSISTANT_PROT=1\n")
    assert main(["check", "--studio", str(folder)]) == 1
    assert "did you mean ASSISTANT_PORT?" in capsys.readouterr().out


def test_a_broken_rule_file_is_found_by_check(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "rules").mkdir()
    (folder / "rules" / "mail.yaml").write_text("robots: {}\n")
    assert main(["check", "--studio", str(folder)]) == 1
    assert "mail.yaml" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("settings", "said"),
    [("", "ASSISTANT_SECRET_KEY is missing or weak"), ("ASSISTANT_PORT=x", "not a whole number from 1 to 65535")],
)
def test_serve_refuses_a_weak_studio_and_says_why(
    folder: Path, capsys: pytest.CaptureFixture[str], settings: str, said: str
) -> None:
    (folder / "settings.env").write_text(settings)
    assert main(["serve", "--studio", str(folder)]) == 2
    assert said in capsys.readouterr().err


def test_serve_stores_a_signed_text_and_ends_cleanly_when_told(folder: Path) -> None:
    command = [sys.executable, "-m", "assistant", "serve", "--studio", str(folder), "--port", "0"]
    environ = {**os.environ, "ASSISTANT_TWILIO_AUTH_TOKEN": "12345", "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(command, env=environ, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout
            address = re.search(r"http://127\.0\.0\.1:\d+", process.stdout.readline())
            assert address, process.stderr.read() if process.stderr else ""
            url = f"{address[0]}/doors/sms"
            signature = RequestValidator("12345").compute_signature(url, FORM)
            call = urllib.request.Request(
                url, urlencode(FORM).encode(), {"X-Twilio-Signature": signature}, method="POST"
            )
            with urllib.request.urlopen(call, timeout=10) as answer:
                assert answer.status == 200
        finally:
            process.send_signal(signal.SIGTERM)
            _, errors = process.communicate(timeout=20)
    assert process.returncode == 0
    assert "garland" not in errors
    store = Store(load_settings(folder, {}).database_url)
    with store.read() as session:
        assert session.scalars(select(Message.text).where(Message.direction == "in")).all() == [FORM["Body"]]
    store.close()
