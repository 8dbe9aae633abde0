"""The mail door's own signature: HMAC-SHA256 over time and body, good for five minutes."""

import hashlib
import hmac

WINDOW_SECONDS = 300
TIME_HEADER, SIGNATURE_HEADER = "X-Assistant-Time", "X-Assistant-Signature"


def sign(secret: str, when: int, body: bytes) -> str:
    """Return the signature of a body sent at ``when`` (Unix seconds), as lower-case hex."""
    return hmac.new(secret.encode(), str(when).encode() + b"." + body, hashlib.sha256).hexdigest()


def is_fresh_and_signed(secret: str, when: str, signature: str, body: bytes, now: float) -> bool:
    """Tell whether whoever knows the secret sent exactly this body within the last five minutes."""
    if not (when.isascii() and when.isdigit() and len(when) <= 12):
        return False
    good = hmac.compare_digest(sign(secret, int(when), body).encode(), signature.lower().encode("utf-8", "replace"))
    return good and abs(now - int(when)) <= WINDOW_SECONDS
