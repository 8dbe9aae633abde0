"""What is wrong or unwise in a studio's settings: each finding names the setting and the remedy."""

import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

from assistant.config import FILE, Settings

SHORTEST_SECRET = 32
LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})


@dataclass(frozen=True)
class Finding:
    """One thing to mend; ``stops`` when serving with it would be unsafe."""

    what: str
    remedy: str
    stops: bool = False


def check_settings(settings: Settings, folder: Path) -> list[Finding]:
    """Return all findings, those that stop first. A demo studio is invented and may be careless."""
    if settings.demo:
        return []
    found = [
        *_file(folder / FILE),
        *_secrets(settings),
        *_public(settings),
        *_sms(settings),
        *_mail(settings),
    ]
    return sorted(found, key=lambda finding: not finding.stops)


def is_weak(secret: str | None) -> bool:
    """Tell whether a secret is missing, short, or made of few different characters."""
    return not secret or len(secret) < SHORTEST_SECRET or len(set(secret)) < 10


def _file(path: Path) -> Iterator[Finding]:
    if not path.is_file():
        yield Finding(f"there is no {path}", f"run: assistant setup --studio {path.parent}")
    elif path.stat().st_mode & (stat.S_IRWXG | stat.S_IRWXO):
        yield Finding(f"{path} can be read by others on this machine", f"run: chmod 600 {path}")


def _secrets(settings: Settings) -> Iterator[Finding]:
    if is_weak(settings.secret_key):
        yield Finding(
            "ASSISTANT_SECRET_KEY is missing or weak, so logins could be forged",
            "run assistant setup for a new folder, or set it to 64 random hex digits",
            stops=True,
        )
    if settings.mail_hook_secret and is_weak(settings.mail_hook_secret):
        yield Finding(
            "ASSISTANT_MAIL_HOOK_SECRET is weak, so mail could be forged",
            "set it to 64 random hex digits, here and at the mail host",
            stops=True,
        )


def _public(settings: Settings) -> Iterator[Finding]:
    address = urlsplit(settings.public_url or "")
    outside = settings.host not in LOOPBACK
    if not settings.public_url:
        yield Finding(
            "ASSISTANT_PUBLIC_URL is not set: no delivery reports, and signatures are checked on the address received",
            "set it to the address that clients and the SMS provider use, like https://studio.example.com",
        )
    elif address.scheme != "https" and address.hostname not in LOOPBACK:
        yield Finding(
            "ASSISTANT_PUBLIC_URL is not https: messages and passwords could be read on the way",
            "put a proxy with a certificate in front and write https:// here",
            stops=True,
        )
    if outside and not settings.trusted_proxies:
        yield Finding(
            f"ASSISTANT_HOST {settings.host} opens the desk to the network without a proxy in front",
            "set it to 127.0.0.1, or set ASSISTANT_TRUSTED_PROXIES to the number of proxies in front",
        )
    if settings.trusted_proxies and not outside and not settings.public_url:
        yield Finding(
            "ASSISTANT_TRUSTED_PROXIES is set without ASSISTANT_PUBLIC_URL, so the proxy's word decides the address",
            "set ASSISTANT_PUBLIC_URL too",
        )


def _sms(settings: Settings) -> Iterator[Finding]:
    needed = {
        "ASSISTANT_TWILIO_ACCOUNT_SID": settings.twilio_account_sid,
        "ASSISTANT_TWILIO_AUTH_TOKEN": settings.twilio_auth_token,
        "ASSISTANT_TWILIO_NUMBER": settings.twilio_number,
    }
    missing = [name for name, value in needed.items() if not value]
    if missing and len(missing) < len(needed):
        what = f"text messages are set up by half: {', '.join(missing)} is missing"
        yield Finding(what, "add it, or remove the rest")
    if missing:
        yield _no_way_out("text messages", settings, "set the three ASSISTANT_TWILIO_ settings to send them")


def _mail(settings: Settings) -> Iterator[Finding]:
    if not settings.sends_mail:
        yield _no_way_out("mails", settings, "set ASSISTANT_SMTP_HOST and ASSISTANT_MAIL_ADDRESS to send them")
    if bool(settings.smtp_user) != bool(settings.smtp_password):
        remedy = "set ASSISTANT_SMTP_USER and ASSISTANT_SMTP_PASSWORD, or neither"
        yield Finding("the mail server's login is set up by half", remedy)
    if settings.smtp_host and settings.smtp_tls == "none" and settings.smtp_host not in LOOPBACK:
        yield Finding(
            "ASSISTANT_SMTP_TLS is none: mail and password travel readable",
            "set it to starttls or ssl",
            stops=bool(settings.smtp_password),
        )


def _no_way_out(what: str, settings: Settings, remedy: str) -> Finding:
    if settings.tray:
        return Finding(f"no {what} leave this machine, they are laid into the studio's tray folder", remedy)
    return Finding(f"no {what} can be sent at all, and the tray is off", f"{remedy}, or set ASSISTANT_TRAY=yes")
