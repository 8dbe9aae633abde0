"""Each unsafe or half-done setting is found, with a remedy; a sound studio has no findings."""

from dataclasses import replace
from pathlib import Path

import pytest

from assistant.checks import check_settings, is_weak
from assistant.config import Settings

SECRET = "0123456789abcdef" * 4
SOUND = Settings(
    database_url="sqlite://",
    secret_key=SECRET,
    public_url="https://studio.example.com",
    trusted_proxies=1,
    twilio_account_sid="AC1",
    twilio_auth_token="t",
    twilio_number="+12025550199",
    smtp_host="mail.example.com",
    mail_address="studio@example.com",
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "settings.env").touch(mode=0o600)
    return tmp_path


def test_a_sound_studio_has_no_findings(folder: Path) -> None:
    assert check_settings(SOUND, folder) == []


@pytest.mark.parametrize(
    ("change", "said", "stops"),
    [
        ({"secret_key": None}, "ASSISTANT_SECRET_KEY", True),
        ({"secret_key": "a" * 64}, "ASSISTANT_SECRET_KEY", True),
        ({"mail_hook_secret": "short"}, "ASSISTANT_MAIL_HOOK_SECRET", True),
        ({"public_url": None}, "ASSISTANT_PUBLIC_URL", False),
        ({"public_url": "http://studio.example.com"}, "not https", True),
        ({"host": "0.0.0.0", "trusted_proxies": 0}, "opens the desk to the network", False),
        ({"twilio_number": None}, "ASSISTANT_TWILIO_NUMBER is missing", False),
        ({"smtp_host": None}, "tray", False),
        ({"smtp_host": None, "tray": False}, "the tray is off", False),
        ({"smtp_user": "u"}, "by half", False),
        ({"smtp_tls": "none", "smtp_user": "u", "smtp_password": "p"}, "travel readable", True),
    ],
)
def test_each_weakness_is_found_with_a_remedy(folder: Path, change: dict[str, object], said: str, stops: bool) -> None:
    found = [finding for finding in check_settings(replace(SOUND, **change), folder) if said in finding.what]
    assert found
    assert found[0].remedy
    assert found[0].stops is stops


def test_a_readable_or_missing_settings_file_is_found(folder: Path) -> None:
    (folder / "settings.env").chmod(0o644)
    assert "chmod 600" in check_settings(SOUND, folder)[0].remedy
    (folder / "settings.env").unlink()
    assert "assistant setup" in check_settings(SOUND, folder)[0].remedy


def test_a_demo_may_be_careless(folder: Path) -> None:
    assert check_settings(replace(SOUND, demo=True, secret_key=None), folder) == []


def test_a_weak_secret_is_known() -> None:
    assert all(map(is_weak, (None, "", "ab" * 40, SECRET[:31])))
    assert not is_weak(SECRET)
