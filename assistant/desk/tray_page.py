"""What was sent, or would be: the tray of a studio that has no way out connected yet."""

from flask import Blueprint, Response, abort

from assistant.desk.context import the_desk
from assistant.desk.guard import visitor
from assistant.desk.home_page import page_number
from assistant.desk.pages import page
from assistant.desk.people import phone_text
from assistant.desk.summary import summarise
from assistant.store import queries_desk as ask

PAGE = 20


def add_to(blueprint: Blueprint) -> None:
    """Register the route."""
    blueprint.add_url_rule("/desk/tray", "tray", tray)


def tray() -> Response:
    """Show what went out, the latest first."""
    who, number = visitor(), page_number()
    if not the_desk().runtime.settings.tray:
        abort(404)
    with the_desk().store.read() as session:
        sends, more = ask.sent_page(session, who.studio_id, skip=(number - 1) * PAGE, size=PAGE)
        rows = [(send, phone_text(send.recipient), summarise(send.inquiry) if send.inquiry else None) for send in sends]
    return page("tray.html", rows=rows, number=number, more=more)
