"""Puts the desk on the app: pages, wall, headers and error pages."""

import secrets
from pathlib import Path
from zoneinfo import ZoneInfo

from flask import Blueprint, Flask, Response, abort, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from assistant.desk import (
    dates_page,
    decisions,
    facts_page,
    guard,
    home_page,
    inquiry_page,
    login_page,
    paste_page,
    setup_page,
    tray_page,
)
from assistant.desk.context import Desk
from assistant.desk.cookies import CookieJar, wants_https
from assistant.desk.errors import init_errors
from assistant.desk.formats import Formats
from assistant.desk.headers import init_headers
from assistant.desk.pages import init_pages
from assistant.desk.passwords import Passwords, load_common
from assistant.desk.words import load_words
from assistant.paths import shipped
from assistant.runtime import Runtime

ASSETS = {"look.css": "text/css", "count.js": "text/javascript", "balloon.svg": "image/svg+xml"}
PAGES = (login_page, setup_page, home_page, inquiry_page, facts_page, decisions, paste_page, dates_page, tray_page)


def init_desk(app: Flask, runtime: Runtime) -> None:
    """Register the designer's pages on the app."""
    folder = shipped("templates") / "desk"
    desk = make_desk(runtime, folder)
    app.extensions["desk"] = desk
    blueprint = _blueprint(folder)
    for module in PAGES:
        module.add_to(blueprint)
    app.before_request(guard.check_request)
    app.after_request(guard.put_door_cookie)
    init_headers(app, https=desk.cookies.secure)
    init_pages(app, desk, folder)
    app.register_blueprint(blueprint)
    init_errors(app)


def make_desk(runtime: Runtime, folder: Path) -> Desk:
    """Return the desk's tools for a runtime."""
    settings, studio = runtime.settings, runtime.rooms.studio
    return Desk(
        runtime=runtime,
        words=load_words(folder / "words.yaml"),
        formats=Formats(locale=studio.locale, currency=studio.currency, zone=ZoneInfo(studio.zone)),
        cookies=CookieJar(secure=wants_https(settings.public_url, settings.host, settings.demo)),
        passwords=Passwords(load_common()),
        key=(settings.secret_key or secrets.token_hex(32)).encode(),
    )


def _blueprint(folder: Path) -> Blueprint:
    blueprint = Blueprint("desk", __name__)
    files = {name: (folder / name).read_bytes() for name in ASSETS}

    @blueprint.get("/desk/assets/<name>")
    def asset(name: str) -> AnyResponse:
        if name not in files:
            abort(404)
        response = Response(files[name], mimetype=ASSETS[name])
        response.add_etag()
        return response.make_conditional(request)

    @blueprint.get("/")
    def front() -> AnyResponse:
        return redirect(url_for("desk.home"), 303)

    return blueprint
