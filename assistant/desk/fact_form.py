"""The facts form as a whole: which facts a person changed, and what was wrong beside which field."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from assistant.desk import fact_fields as fields
from assistant.desk.fact_fields import BadField, Form, Limits, shown

READERS: dict[str, Callable[[Form, Limits], Any]] = {
    "event_date": fields.read_date,
    "event_time": fields.read_time,
    "occasion": fields.choice("occasion", "occasions"),
    "pieces": fields.read_pieces,
    "colours": fields.read_colours,
    "setting": fields.choice("setting", "settings"),
    "place": fields.read_place,
    "budget": fields.read_budget,
    "name": fields.read_name,
    "density": fields.choice("density", "densities"),
    "finish": fields.read_finish,
    "miles": fields.read_miles,
    "strike": fields.read_strike,
    "crew": fields.read_crew,
}
PARTS = {"budget": ("budget_low", "budget_high"), "finish": ("mirror", "doubled")}


@dataclass(frozen=True)
class FactForm:
    """A form as typed: the fields' texts, the facts it changes (None takes one away), the messages by fact."""

    texts: dict[str, str]
    changes: dict[str, Any] = field(default_factory=dict)
    problems: dict[str, str] = field(default_factory=dict)

    def piece_rows(self) -> list[int]:
        """Return the rows of pieces to show: those in use, and an empty one for a new piece."""
        used = [row for row in range(fields.MOST_PIECES) if self._uses(row)]
        spare = next((row for row in range(fields.MOST_PIECES) if row not in used), None)
        return used + ([spare] if spare is not None else [])

    def _uses(self, row: int) -> bool:
        return any(self.texts.get(f"piece-{row}-{part}") for part in ("kind", *fields.SIZES))


def form_for(facts: Mapping[str, Any]) -> FactForm:
    """Return the form for the facts as they stand."""
    return FactForm(shown(facts))


def read_form(form: Form, facts: Mapping[str, Any], limits: Limits) -> FactForm:
    """Return what a person changed: only facts whose fields differ from what the page showed are read."""
    before = shown(facts)
    texts = {**before, **{name: text[:500] for name, text in form.items() if _is_field(name)}}
    picked = form.get("pick_date")
    if picked:
        texts["event_date"] = picked
    changes: dict[str, Any] = {}
    problems: dict[str, str] = {}
    for name, read in READERS.items():
        if not (_changed(name, texts, before) or (picked and name == "event_date")):
            continue
        try:
            changes[name] = read(texts, limits)
        except BadField as problem:
            problems[name] = str(problem)
    return FactForm(texts, changes, problems)


def _is_field(name: str) -> bool:
    parts = {part for group in PARTS.values() for part in group}
    return name in READERS or name in parts or name.startswith("piece-")


def _changed(name: str, texts: Mapping[str, str], before: Mapping[str, str]) -> bool:
    keys: Iterable[str] = PARTS.get(name, (name,))
    if name == "pieces":
        keys = [key for key in {*texts, *before} if key.startswith("piece-") and not key.endswith("-new")]
    return any(_same(texts.get(key)) != _same(before.get(key)) for key in keys)


def _same(text: str | None) -> str:
    return " ".join((text or "").split())
