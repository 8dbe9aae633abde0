"""The headers of every response, errors and files included."""

from flask import Flask, Response, request

POLICY = "; ".join(
    [
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self'",
        "connect-src 'self'",
        "form-action 'self'",
        "base-uri 'none'",
        "object-src 'none'",
        "frame-ancestors 'none'",
    ]
)
ONE_YEAR = "max-age=31536000; includeSubDomains"


def init_headers(app: Flask, *, https: bool) -> None:
    """Add the headers to whatever the app answers."""

    def add(response: Response) -> Response:
        headers = response.headers
        headers.setdefault("Content-Security-Policy", POLICY)
        headers["X-Content-Type-Options"] = "nosniff"
        headers["Referrer-Policy"] = "no-referrer"
        headers["Cross-Origin-Opener-Policy"] = "same-origin"
        headers["Cross-Origin-Resource-Policy"] = "same-origin"
        headers["Cache-Control"] = "no-store" if request.endpoint != "desk.asset" else "no-cache"
        if https:
            headers["Strict-Transport-Security"] = ONE_YEAR
        return response

    app.after_request(add)
