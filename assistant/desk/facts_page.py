"""Saving facts by hand: only what she changed goes to the flow, which prices anew."""

from flask import Blueprint, abort, redirect, request, url_for
from werkzeug.wrappers import Response as AnyResponse

from assistant.desk.context import the_desk
from assistant.desk.fact_form import read_form
from assistant.desk.guard import visitor
from assistant.desk.inquiry_page import Typed, limits, show
from assistant.store import queries_desk as ask

NEWER = (
    "Something changed in this inquiry while you were typing, so nothing is saved yet. Your entries are below: "
    "look at the conversation again, then save."
)


def add_to(blueprint: Blueprint) -> None:
    """Register the route."""
    blueprint.add_url_rule("/desk/inquiry/<int(max=2147483647):inquiry_id>/facts", "facts", facts, methods=["POST"])


def facts(inquiry_id: int) -> AnyResponse:
    """Take the facts form."""
    who = visitor()
    with the_desk().store.read() as session:
        found = ask.whole_inquiry(session, who.studio_id, inquiry_id) or abort(404)
    form = read_form(request.form, found.facts, limits(found.facts))
    if form.problems:
        return show(inquiry_id, Typed(facts=form, facts_problem="Nothing is saved yet: see the marked fields."), 400)
    if request.form.get("version") != str(found.version):
        return show(inquiry_id, Typed(facts=form, facts_problem=NEWER), 409)
    try:
        if form.changes:
            the_desk().flow.edit_facts(inquiry_id, form.changes, who.designer_id)
    except ValueError as problem:
        return show(inquiry_id, Typed(facts=form, facts_problem=f"Nothing is saved: {problem}."), 400)
    said = "facts_saved" if form.changes else "facts_same"
    return redirect(url_for("desk.inquiry", inquiry_id=inquiry_id, said=said, _anchor="reply"), 303)
