"""Error pages: what happened to what the person typed, what to do next, and a number that the log has too."""

import logging
import secrets
import traceback

from flask import Flask, Response, request
from werkzeug.exceptions import HTTPException
from werkzeug.sansio.response import Response as AnyResponse

from assistant.desk.guard import SAFE
from assistant.desk.pages import page
from assistant.desk.passwords import Crowded
from assistant.store import StoreUnavailable

log = logging.getLogger(__name__)

SHOWN = frozenset({400, 401, 403, 404, 405, 409, 413, 429, 500, 503})


def init_errors(app: Flask) -> None:
    """Answer every fault with a page of ours; no traceback ever leaves."""
    app.register_error_handler(HTTPException, _refused)
    app.register_error_handler(StoreUnavailable, _unavailable)
    app.register_error_handler(Crowded, _unavailable)
    app.register_error_handler(Exception, _fault)


def _refused(problem: HTTPException) -> AnyResponse:
    code = problem.code or 500
    if problem.response is not None or code < 400:
        return problem.get_response()
    reference = _reference()
    log.info("refused %s %s %s: %s", reference, code, request.endpoint, type(problem).__name__)
    return error_page(code, reference)


def _unavailable(problem: Exception) -> Response:
    reference = _reference()
    log.error("unavailable %s %s: %s", reference, request.endpoint, type(problem).__name__)
    response = error_page(503, reference)
    response.headers["Retry-After"] = "5"
    return response


def _fault(problem: Exception) -> Response:
    reference = _reference()
    log.error("fault %s %s: %s at %s", reference, request.endpoint, type(problem).__name__, _places(problem))
    return error_page(500, reference)


def error_page(code: int, reference: str) -> Response:
    """Return the page for a status; machines at the doors get one plain line."""
    if request.path.startswith("/doors/"):
        return Response(f"{code}, reference {reference}\n", status=code, mimetype="text/plain")
    shown = code if code in SHOWN else (500 if code >= 500 else 400)
    try:
        changing = request.method not in SAFE
        return page("error.html", status=code, code=shown, reference=reference, changing=changing, typed=_typed())
    except Exception as problem:
        log.error("error page %s failed: %s at %s", reference, type(problem).__name__, _places(problem))
        return Response(f"Something broke here. Reference {reference}\n", status=500, mimetype="text/plain")


def _typed() -> list[str]:
    """Return the longer texts of the form, so that nothing typed is lost; only if the browser says it is our form."""
    if request.method in SAFE or request.headers.get("Sec-Fetch-Site") != "same-origin":
        return []
    try:
        return [value for name, value in request.form.items() if name in ("text", "own_text", "pasted") and value]
    except HTTPException:
        return []


def _reference() -> str:
    return secrets.token_hex(4)


def _places(problem: BaseException) -> str:
    """Return file, line and function of each step, without the error's text, which may hold people's words."""
    steps = traceback.extract_tb(problem.__traceback__)
    return " > ".join(f"{step.filename.rsplit('/', 1)[-1]}:{step.lineno} {step.name}" for step in steps[-6:])
