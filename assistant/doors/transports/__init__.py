"""The ways out, by channel, as the settings allow them."""

from pathlib import Path

from assistant.config import Settings
from assistant.doors.transports.base import LookUp, Refused, SendProblem, Transport, TryLater, Unsure
from assistant.doors.transports.tray import Tray

__all__ = ["LookUp", "Refused", "SendProblem", "Transport", "Tray", "TryLater", "Unsure", "open_transports"]


def open_transports(settings: Settings, folder: Path) -> dict[str, Transport]:
    """Return the way out of each channel; a channel without one uses the tray, if the settings allow it."""
    tray = Tray(folder / "tray")
    ways: dict[str, Transport] = {"paste": tray}
    if settings.tray:
        ways |= {"sms": tray, "email": tray}
    if settings.sends_sms:
        ways["sms"] = _twilio(settings)
    if settings.sends_mail:
        ways["email"] = _smtp(settings)
    return ways


def _twilio(settings: Settings) -> Transport:
    from assistant.doors.transports.twilio import Twilio

    return Twilio(
        settings.twilio_account_sid or "",
        settings.twilio_auth_token or "",
        api_base=settings.twilio_api_base,
        status_url=f"{settings.public_url}/doors/sms/status" if settings.public_url else None,
    )


def _smtp(settings: Settings) -> Transport:
    from assistant.doors.transports.smtp import Smtp

    return Smtp(
        settings.smtp_host or "",
        settings.smtp_port,
        tls=settings.smtp_tls,
        user=settings.smtp_user,
        password=settings.smtp_password,
    )
