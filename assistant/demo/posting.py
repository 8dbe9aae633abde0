"""Posts to the doors over real HTTP, signed as the provider and a mail relay would sign."""

import hashlib
import hmac
import secrets
import urllib.error
import urllib.parse
import urllib.request
from collections.abc import Callable
from datetime import datetime


class Postman:
    """Delivers texts and mails to a running program at ``base`` (such as http://127.0.0.1:8080)."""

    def __init__(
        self, base: str, *, auth_token: str, mail_secret: str, own_number: str, now: Callable[[], datetime]
    ) -> None:
        self.base, self.now = base, now
        self._auth_token, self._mail_secret, self._own_number = auth_token, mail_secret, own_number

    def text(self, sender: str, body: str, sid: str | None = None) -> str:
        """Post one text message; return its MessageSid."""
        from twilio.request_validator import RequestValidator

        sid = sid or f"SM{secrets.token_hex(16)}"
        form = {
            "MessageSid": sid,
            "AccountSid": "AC" + "0" * 32,
            "From": sender,
            "To": self._own_number,
            "Body": body,
            "NumMedia": "0",
        }
        url = f"{self.base}/doors/sms"
        signature = RequestValidator(self._auth_token).compute_signature(url, form)
        self._post(
            url,
            urllib.parse.urlencode(form).encode(),
            {"Content-Type": "application/x-www-form-urlencoded", "X-Twilio-Signature": signature},
        )
        return sid

    def mail(self, raw: bytes) -> None:
        """Post one raw mail message."""
        sent = str(int(self.now().timestamp()))
        mac = hmac.new(self._mail_secret.encode(), sent.encode() + b"." + raw, hashlib.sha256).hexdigest()
        headers = {"Content-Type": "message/rfc822", "X-Assistant-Time": sent, "X-Assistant-Signature": mac}
        self._post(f"{self.base}/doors/mail", raw, headers)

    def _post(self, url: str, body: bytes, headers: dict[str, str]) -> None:
        request = urllib.request.Request(url, data=body, headers=headers, method="POST")
        try:
            with urllib.request.urlopen(request, timeout=30) as answer:
                answer.read()
        except urllib.error.HTTPError as fault:
            words = fault.read().decode(errors="replace")[:300]
            raise ConnectionError(f"the door answered {fault.code}: {words}") from None
