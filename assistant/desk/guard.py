"""Who may ask for what: the login wall, the form token, and the same-origin rule, before any page's own code.

The form token is an HMAC with the login's own secret (DeskSession.csrf_secret), not Flask-WTF's: that one keeps its
half in Flask's signed session cookie, which this program does not use, since such a cookie outlives a logout.
Before the login the token belongs to a random cookie instead.
"""

import hashlib
import hmac
import secrets
from urllib.parse import urlsplit

from flask import Response, abort, g, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from assistant.desk.context import the_desk
from assistant.desk.sessions import Visitor, find_visitor

SESSION, DOOR = "desk", "desk-door"
TOKEN_FIELD = "form_token"
OPEN_PAGES = frozenset({"desk.login", "desk.setup", "desk.asset", "desk.front"})
SAFE = frozenset({"GET", "HEAD", "OPTIONS"})


def check_request() -> AnyResponse | None:
    """Stop a request to the desk that has no login, no form token, or comes from another site."""
    if not (request.endpoint or "").startswith("desk."):
        return None
    if request.method not in SAFE and _from_elsewhere():
        abort(403, "sent from another site")
    if request.endpoint in OPEN_PAGES:
        _check_token(door_token())
        return None
    g.visitor = find_visitor(the_desk().store, session_token(), the_desk().now())
    if g.visitor is None:
        return _to_login()
    _check_token(g.visitor.form_token)
    return None


def visitor() -> Visitor:
    """Return who is logged in; only pages behind the wall may ask."""
    found: Visitor | None = g.get("visitor")
    if found is None:
        abort(401)
    return found


def session_token() -> str | None:
    """Return the login token that the browser sent."""
    return the_desk().cookies.get(request, SESSION)


def current_token() -> str:
    """Return the token that a form on this page must carry."""
    found: Visitor | None = g.get("visitor")
    return found.form_token if found else door_token()


def door_token() -> str:
    """Return the token of forms before the login, bound to a random cookie of this browser."""
    value = the_desk().cookies.get(request, DOOR) or g.get("door")
    if not value:
        value = g.door = secrets.token_urlsafe(24)
    return sign("door", value)


def put_door_cookie(response: Response) -> Response:
    """Give the browser the cookie that the form's token belongs to."""
    if g.get("door"):
        the_desk().cookies.put(response, DOOR, g.door)
    return response


def sign(purpose: str, value: str) -> str:
    """Return a keyed hash that only this program can make."""
    return hmac.new(the_desk().key, f"{purpose}\0{value}".encode("utf-8", "replace"), hashlib.sha256).hexdigest()


def own_path(target: str | None) -> str:
    """Return a path of the desk to go on to after the login; anything else gives the first page."""
    if target and target.startswith("/desk") and not set(target) & set("\\\r\n\t") and "//" not in target:
        return target
    return url_for("desk.home")


def _check_token(expected: str) -> None:
    if request.method in SAFE:
        return
    given = request.form.get(TOKEN_FIELD, "")
    if not hmac.compare_digest(given.encode("utf-8", "replace"), expected.encode()):
        abort(403, "without the page's own token")


def _from_elsewhere() -> bool:
    """Tell whether the browser says that another site sent this.

    Sec-Fetch-Site decides where it is sent (W3C Fetch Metadata), else Origin. Pages with Referrer-Policy
    no-referrer post with "Origin: null" (Fetch standard), so null proves nothing and the token decides.
    """
    site = request.headers.get("Sec-Fetch-Site")
    if site:
        return site != "same-origin"
    origin = request.headers.get("Origin")
    ours = {request.host, urlsplit(the_desk().runtime.settings.public_url or "").netloc}
    return bool(origin and origin != "null" and urlsplit(origin).netloc not in ours)


def _to_login() -> AnyResponse:
    if request.method not in SAFE:
        abort(401)
    onward = request.full_path.rstrip("?")
    return redirect(url_for("desk.login", next=onward if onward != url_for("desk.home") else None), 303)
