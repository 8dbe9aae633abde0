"""Settings are checked before anything starts; a wrong one is named with its place and a remedy."""

from pathlib import Path

import pytest

from assistant.config import SettingsError, load_settings


def write(folder: Path, text: str) -> Path:
    (folder / "settings.env").write_text(text, encoding="utf-8")
    return folder


def test_an_empty_folder_gives_a_working_studio_with_a_tray(tmp_path: Path) -> None:
    settings = load_settings(tmp_path, {})
    assert settings.tray
    assert settings.database_url == f"sqlite:///{tmp_path}/store.sqlite"
    assert not settings.sends_sms
    assert not settings.sends_mail


def test_the_environment_wins_over_the_file(tmp_path: Path) -> None:
    folder = write(tmp_path, "# ours\nASSISTANT_PORT=9000\nASSISTANT_SECRET_KEY='from the file'\n")
    settings = load_settings(folder, {"ASSISTANT_PORT": "9001", "HOME": "/"})
    assert (settings.port, settings.secret_key) == (9001, "from the file")


def test_an_empty_value_means_not_set(tmp_path: Path) -> None:
    assert load_settings(write(tmp_path, "ASSISTANT_PUBLIC_URL=\n"), {}).public_url is None


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("ASSISTANT_PROT=1", "settings.env line 1: there is no setting ASSISTANT_PROT: did you mean ASSISTANT_PORT?"),
        ("PORT=1", "there is no setting PORT"),
        ("ASSISTANT_PORT", "has no value"),
        ("ASSISTANT_PORT=0", "from 1 to 65535"),
        ("ASSISTANT_PORT=\u0661", "not a whole number"),
        ("ASSISTANT_TRAY=perhaps", "write yes or no"),
        ("ASSISTANT_SMTP_TLS=tls", "choose starttls, ssl, none"),
        ("ASSISTANT_PUBLIC_URL=studio.example.com", "like https://studio.example.com"),
        ("ASSISTANT_TWILIO_NUMBER=2025550101", "write it like \\+12025550101"),
        ("ASSISTANT_PORT=1\nASSISTANT_PORT=2", "line 2: ASSISTANT_PORT is there twice"),
    ],
)
def test_a_wrong_setting_is_named_with_place_and_remedy(tmp_path: Path, line: str, said: str) -> None:
    with pytest.raises(SettingsError, match=said):
        load_settings(write(tmp_path, line), {})


def test_all_wrong_settings_are_told_at_once(tmp_path: Path) -> None:
    with pytest.raises(SettingsError) as caught:
        load_settings(write(tmp_path, "ASSISTANT_PORT=x\nASSISTANT_DEMO=x\n"), {"ASSISTANT_X": "1"})
    assert len(str(caught.value).splitlines()) == 3


def test_printing_the_settings_shows_no_secret(tmp_path: Path) -> None:
    secrets = ["TWILIO_AUTH_TOKEN", "MAIL_HOOK_SECRET", "SMTP_PASSWORD", "SECRET_KEY"]
    settings = load_settings(tmp_path, {f"ASSISTANT_{name}": "hush-hush" for name in secrets})
    assert "hush" not in repr(settings)
