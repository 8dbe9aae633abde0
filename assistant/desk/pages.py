"""Renders a page of the desk with what every page needs."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

from flask import Flask, Response, g, render_template, request
from jinja2 import FileSystemLoader
from markupsafe import Markup

from assistant.desk import formats
from assistant.desk.context import the_desk
from assistant.desk.fact_text import FactText, count_text, rows_for
from assistant.desk.guard import TOKEN_FIELD, current_token

if TYPE_CHECKING:
    from assistant.desk.context import Desk


def init_pages(app: Flask, desk: "Desk", folder: Path) -> None:
    """Set the template folder; every template escapes, whatever its name."""
    app.jinja_loader = FileSystemLoader(folder)
    app.jinja_env.autoescape = True
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    texts = FactText(desk.words, desk.formats)
    app.jinja_env.filters |= {
        "money": desk.formats.money,
        "day": desk.formats.day,
        "short_day": desk.formats.short_day,
        "long_day": desk.formats.long_day,
        "hour": desk.formats.hour,
        "whole_money": desk.formats.whole_money,
        "hours": formats.decimal_hours,
        "span": formats.span_text,
        "rows": formats.flat_rows,
        "fact_value": texts.value,
        "pack": texts.pack,
    }
    app.jinja_env.globals |= {
        "word": desk.words.of,
        "words": desk.words.group,
        "rows_for": rows_for,
        "count_text": count_text,
    }


def page(template: str, *, status: int = 200, **values: Any) -> Response:
    """Return a rendered page with the studio's name, the visitor and the form token."""
    desk = the_desk()
    visitor = g.get("visitor")
    shared = {
        "studio": desk.runtime.rooms.studio.name,
        "visitor": visitor,
        "form_token": Markup('<input type="hidden" name="{}" value="{}">').format(TOKEN_FIELD, current_token()),
        "has_tray": bool(desk.runtime.settings.tray),
        "here": (request.endpoint or "").removeprefix("desk."),
        "said": desk.words.group("notices").get(request.args.get("said", "")),
        "now": desk.now(),
        "today": desk.today(),
        "moment": lambda value: desk.formats.moment(value, desk.today()),
        "age": lambda value: formats.age(value, desk.now()),
        "days_off": lambda value: formats.days_off(value, desk.today()),
        "money_range": desk.formats.money_range,
        "hours_of": lambda claim: desk.formats.hours_of_day(claim.start_at, claim.end_at),
    }
    return Response(render_template(template, **(shared | values)), status=status, mimetype="text/html")
