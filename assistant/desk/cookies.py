"""Cookies that only this program can read: by https with the __Host- prefix, by plain http on this machine alone."""

from urllib.parse import urlsplit

from flask import Request
from werkzeug.wrappers import Response

LOOPBACK = frozenset({"127.0.0.1", "localhost", "::1"})


def wants_https(public_url: str | None, host: str | None, demo: bool) -> bool:
    """Tell whether cookies must be Secure: always, but for a demo or a desk that listens on this machine alone."""
    if urlsplit(public_url or "").scheme == "https":
        return True
    return not (demo or (host or "") in LOOPBACK)


class CookieJar:
    """Sets, reads and drops the desk's cookies.

    The ``__Host-`` prefix (RFC 6265bis) makes a browser refuse the cookie unless it is Secure, has Path=/ and no
    Domain, so that no neighbour under the same domain can plant one.
    """

    def __init__(self, *, secure: bool) -> None:
        self.secure = secure

    def name(self, base: str) -> str:
        """Return the cookie's full name."""
        return f"__Host-{base}" if self.secure else base

    def get(self, request: Request, base: str) -> str | None:
        """Return the cookie's value, or None; an overlong one counts as none."""
        value = request.cookies.get(self.name(base))
        return value if value and len(value) <= 400 else None

    def put(self, response: Response, base: str, value: str, *, seconds: int | None = None) -> None:
        """Set a cookie; without ``seconds`` it ends with the browser."""
        response.set_cookie(
            self.name(base), value, max_age=seconds, path="/", secure=self.secure, httponly=True, samesite="Lax"
        )

    def drop(self, response: Response, base: str) -> None:
        """Make the browser forget the cookie."""
        response.delete_cookie(self.name(base), path="/", secure=self.secure, httponly=True, samesite="Lax")
