"""One inquiry: what was said, the facts, the day, the price, and the reply that waits for her yes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from flask import Blueprint, Response, abort
from sqlalchemy.orm import Session

from assistant.desk.context import the_desk
from assistant.desk.fact_fields import Limits, budget_of, pieces_of
from assistant.desk.fact_form import FactForm, form_for
from assistant.desk.facts import in_order, options_of, spans_of, status_of, with_sources
from assistant.desk.guard import visitor
from assistant.desk.marks import numbers
from assistant.desk.pages import page
from assistant.desk.picture import RangePicture, draw
from assistant.desk.summary import Summary, summarise
from assistant.desk.talk import Turn, how_many_to_show, turns
from assistant.store import queries_desk as ask
from assistant.store.models import Booking, Draft, Inquiry, Task


@dataclass(frozen=True)
class Typed:
    """What a person typed and what was wrong with it, to be shown again; "" where nothing was."""

    text: str | None = None
    subject: str | None = None
    reply_problem: str = ""
    own_text: str = ""
    own_subject: str | None = None
    own_problem: str = ""
    reason: str = ""
    close_problem: str = ""
    facts: FactForm | None = None
    facts_problem: str = ""


@dataclass(frozen=True)
class InquiryView:
    """Everything the page of one inquiry shows."""

    inquiry: Inquiry
    summary: Summary
    talk: Sequence[Turn]
    recent: int
    form: FactForm
    numbers: dict[str, int]
    anchors: dict[str, str]
    standing: dict[str, str]
    options: dict[str, list[Any]]
    picture: RangePicture | None
    budget: tuple[int | None, int | None] | None
    draft: Draft | None
    tasks: Sequence[Task]
    claims: Sequence[Booking]


def add_to(blueprint: Blueprint) -> None:
    """Register the route."""
    blueprint.add_url_rule("/desk/inquiry/<int(max=2147483647):inquiry_id>", "inquiry", inquiry)


def inquiry(inquiry_id: int) -> Response:
    """Show one inquiry."""
    return show(inquiry_id)


def show(inquiry_id: int, typed: Typed | None = None, status: int = 200) -> Response:
    """Return the page of an inquiry, with what a person typed if it could not be carried out."""
    typed = typed or Typed()
    with the_desk().store.read() as session:
        view = _view(session, visitor().studio_id, inquiry_id)
    if typed.facts:
        view = replace(view, form=typed.facts)
    return page("inquiry.html", status=status, v=view, typed=typed, kinds=_kinds())


def limits(facts: Mapping[str, Any] | None = None) -> Limits:
    """Return what the facts form may choose from, for an inquiry with these facts."""
    words = the_desk().words
    return Limits(
        today=the_desk().today(),
        occasions=frozenset(words.group("occasions")),
        kinds=frozenset(_kinds()),
        settings=frozenset(words.group("settings")),
        densities=frozenset(words.group("densities")),
        pieces=tuple(pieces_of(facts or {})),
    )


def _kinds() -> dict[str, str]:
    """Return the kinds of pieces with their words: those of the desk, and whatever the price book knows besides."""
    kinds = dict(the_desk().words.group("kinds"))
    book = the_desk().runtime.rooms.price_book.pieces
    known = {kind: piece.label for kind, piece in book.pieces.items()}
    known |= {kind: row.label for kind, row in book.designer_decides.items()}
    return {**known, **kinds}


def _view(session: Session, studio_id: int, inquiry_id: int) -> InquiryView:
    found = ask.whole_inquiry(session, studio_id, inquiry_id) or abort(404)
    facts = found.facts
    marked = with_sources(facts, found.sources)
    talk = turns(found, ask.outgoing_of(session, inquiry_id), marked)
    draft = next((draft for draft in found.drafts if draft.state in ask.OPEN_DRAFTS), None)
    return InquiryView(
        inquiry=found,
        summary=summarise(found),
        talk=talk,
        recent=how_many_to_show(talk, draft is not None),
        form=form_for(facts),
        numbers=numbers(marked),
        anchors={name: f"w-{name}-1" for name in in_order(marked) if spans_of(marked[name])},
        standing={name: status_of(facts[name]) for name in facts},
        options={name: options_of(facts[name]) for name in facts},
        picture=draw(found.quote, _budget(facts)) if found.quote else None,
        budget=_budget(facts),
        draft=draft,
        tasks=[task for task in found.tasks if task.done_at is None],
        claims=ask.claims_of(session, inquiry_id),
    )


def _budget(facts: dict[str, Any]) -> tuple[int | None, int | None] | None:
    """Return the budget in minor units, as quotes are."""
    found = budget_of(facts)
    if found is None:
        return None
    low, high = (None if end is None else the_desk().formats.minor(end) for end in found)
    return low, high
