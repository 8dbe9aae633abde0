"""Settings of one studio: from its folder's ``settings.env`` and the environment, checked before anything starts."""

import difflib
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any

PREFIX = "ASSISTANT_"
FILE = "settings.env"
_YES = {"true": True, "yes": True, "1": True, "false": False, "no": False, "0": False}
_TLS = ("starttls", "ssl", "none")


class SettingsError(ValueError):
    """One or more settings are wrong; each line names the setting, its place and the remedy."""


def _secret(default: str | None = None) -> Any:
    """A setting whose value is never printed."""
    return field(default=default, repr=False)


@dataclass(frozen=True)
class Settings:
    """What differs from studio to studio. An unset door (SMS, mail) is closed, not half open.

    ``public_url`` is what clients and the SMS provider see, without a slash at the end; ``trusted_proxies`` counts
    the proxies before us whose X-Forwarded-* headers are believed. ``tray`` puts messages that have no way out
    into a folder of the studio instead of sending them. ``demo`` marks a studio of invented data.
    """

    database_url: str
    public_url: str | None = None
    trusted_proxies: int = 0
    twilio_account_sid: str | None = None
    twilio_auth_token: str | None = _secret()
    twilio_number: str | None = None
    twilio_api_base: str | None = None
    mail_hook_secret: str | None = _secret()
    mail_address: str | None = None
    smtp_host: str | None = None
    smtp_port: int = 587
    smtp_user: str | None = None
    smtp_password: str | None = _secret()
    smtp_tls: str = "starttls"
    secret_key: str | None = _secret()
    tray: bool = True
    host: str = "127.0.0.1"
    port: int = 8080
    demo: bool = False

    @property
    def sends_sms(self) -> bool:
        """Whether text messages can leave through the provider."""
        return bool(self.twilio_account_sid and self.twilio_auth_token and self.twilio_number)

    @property
    def sends_mail(self) -> bool:
        """Whether mail can leave through a mail server."""
        return bool(self.smtp_host and self.mail_address)


def load_settings(folder: Path, environ: Mapping[str, str]) -> Settings:
    """Return the settings of the studio in ``folder``; the environment wins over the file.

    Raises SettingsError that lists everything wrong at once.
    """
    problems: list[str] = []
    given = _from_file(folder / FILE, problems)
    given |= {key: (value, "the environment") for key, value in environ.items() if key.startswith(PREFIX)}
    values: dict[str, Any] = {}
    for key, (text, place) in given.items():
        _take(key, text, place, values, problems)
    if problems:
        raise SettingsError("\n".join(problems))
    values.setdefault("database_url", f"sqlite:///{folder.resolve() / 'store.sqlite'}")
    return Settings(**values)


def _from_file(path: Path, problems: list[str]) -> dict[str, tuple[str, str]]:
    if not path.is_file():
        return {}
    found: dict[str, tuple[str, str]] = {}
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
        line, place = line.strip(), f"{path.name} line {number}"
        if not line or line.startswith("#"):
            continue
        key, equals, value = line.partition("=")
        if not equals:
            problems.append(f"{place}: '{key[:20]}' has no value: write {PREFIX}NAME=value")
        elif key.strip() in found:
            problems.append(f"{place}: {key.strip()} is there twice: remove one")
        else:
            found[key.strip()] = (_unquoted(value.strip()), place)
    return found


def _unquoted(value: str) -> str:
    return value[1:-1] if len(value) > 1 and value[0] == value[-1] and value[0] in "\"'" else value


_KINDS: dict[str, Any] = {entry.name: entry.type for entry in fields(Settings)}


def _take(key: str, text: str, place: str, values: dict[str, Any], problems: list[str]) -> None:
    """Put one given setting among ``values``, or say what is wrong with it (never repeating a secret)."""
    name = key.removeprefix(PREFIX).lower()
    if not key.startswith(PREFIX) or name not in _KINDS:
        near = difflib.get_close_matches(name, _KINDS, 1)
        hint = f"did you mean {PREFIX}{near[0].upper()}?" if near else "remove it"
        problems.append(f"{place}: there is no setting {key}: {hint}")
    elif text:  # an empty value means: not set
        try:
            values[name] = _value(name, text)
        except ValueError as problem:
            problems.append(f"{place}: {key}: {problem}")


def _value(name: str, text: str) -> Any:
    if _KINDS[name] is bool:
        if text.lower() not in _YES:
            raise ValueError(f"'{text}' is neither yes nor no: write yes or no")
        return _YES[text.lower()]
    if _KINDS[name] is int:
        return _whole_number(name, text)
    return _CHECKS[name](text) if name in _CHECKS else text


def _whole_number(name: str, text: str) -> int:
    least, most = (0, 10) if name == "trusted_proxies" else (1, 65535)
    if not (text.isascii() and text.isdigit() and least <= int(text) <= most):
        raise ValueError(f"'{text}' is not a whole number from {least} to {most}: correct it")
    return int(text)


def _address(text: str) -> str:
    text = text.rstrip("/")
    if not text.startswith(("https://", "http://")) or "?" in text or "#" in text:
        raise ValueError(f"'{text}' is no web address: write it like https://studio.example.com")
    return text


def _tls(text: str) -> str:
    if text not in _TLS:
        raise ValueError(f"'{text}' is unknown: choose {', '.join(_TLS)}")
    return text


def _number(text: str) -> str:
    if not (text.startswith("+") and text[1:].isdigit() and 8 <= len(text) <= 16):
        raise ValueError(f"'{text}' is no international number: write it like +12025550101")
    return text


_CHECKS: dict[str, Any] = {
    "public_url": _address,
    "twilio_api_base": _address,
    "smtp_tls": _tls,
    "twilio_number": _number,
}
