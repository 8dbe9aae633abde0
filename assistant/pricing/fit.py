"""Two ways to fit a budget that lies below the range: the same look made smaller, and the same size made plainer.

Both are computed by pricing changed facts, so that what is offered is what the studio would charge, and each says in
words what changes. What is never touched: wages, waste, the ways and the days.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from assistant.pricing.book import DesignerDecides, PriceBook
from assistant.pricing.engine import Priced, price_job
from assistant.pricing.given import FactWrong
from assistant.pricing.job import Job
from assistant.pricing.smaller import smaller_pieces
from assistant.pricing.terms import shown_of

Facts = Mapping[str, Any]
SMALLEST, STEPS = 8, 20  # sizes are tried in twentieths, down to eight of them: smaller is another piece
NONE = Decimal(0)


@dataclass(frozen=True)
class Version:
    """One way to fit: what changes in words, the facts that change, its price in cents, and whether it fits."""

    way: str
    changes: tuple[str, ...]
    facts: Facts
    shown: tuple[int, int, int]
    fits: bool

    def to_json(self) -> dict[str, Any]:
        """Return one entry of the answer's ``fit``."""
        low, likely, high = self.shown
        return {"way": self.way, "changes": list(self.changes), "facts": dict(self.facts), "fits": self.fits,
                "low": low, "likely": likely, "high": high}  # fmt: skip


@dataclass(frozen=True)
class Asked:
    """A priced job with the facts behind it and the budget in cents it should come down to."""

    facts: Facts
    priced: Priced
    book: PriceBook
    budget: int

    def version(self, way: str, changes: list[str], changed: Facts) -> Version | None:
        """Price the job with ``changed`` facts; None where that can't be priced."""
        try:
            priced = price_job({**self.facts, **changed}, self.book, self.priced.job.today)
        except (FactWrong, DesignerDecides):
            return None
        shown = shown_of([case.price for case in (priced.low, priced.likely, priced.high)], priced.job, self.book)
        return Version(way, tuple(changes), changed, shown, shown[1] <= self.budget)


def versions_that_fit(facts: Facts, priced: Priced, shown: tuple[int, int, int], book: PriceBook) -> list[Version]:
    """Return at most two versions for a budget below the range, none where the budget is open or within it."""
    budget = priced.job.budget
    if budget is None or budget.high * 100 >= shown[0]:
        return []
    asked = Asked(facts, priced, book, int(budget.high * 100))
    found = [_smaller(asked, "smaller", [], {}), _plainer(asked)]
    return [version for version in found if version is not None]


def _smaller(asked: Asked, way: str, changes: list[str], changed: Facts) -> Version | None:
    """Return the largest size that fits, or the smallest one where none does."""
    smallest = _shrunk(asked, way, changes, changed, SMALLEST)
    if smallest is None or not smallest.fits:
        return smallest
    fits, too_large, best = SMALLEST, STEPS, smallest
    while too_large - fits > 1:
        part = (fits + too_large) // 2
        version = _shrunk(asked, way, changes, changed, part)
        if version is not None and version.fits:
            fits, best = part, version
        else:
            too_large = part
    return best


def _shrunk(asked: Asked, way: str, changes: list[str], changed: Facts, part: int) -> Version | None:
    pieces, words = smaller_pieces(asked.facts, asked.priced.job, Decimal(part) / STEPS)
    if not words:
        return None
    return asked.version(way, [*changes, *words], {**changed, "pieces": pieces})


def _plainer(asked: Asked) -> Version | None:
    """Take one thing away after the other until it fits; where that is not enough, make it smaller too."""
    changes: list[str] = []
    changed: dict[str, Any] = {}
    version = None
    for words, more in _steps(asked):
        tried = asked.version("plainer", [*changes, words], {**changed, **more})
        if tried is None:
            continue
        changes, changed, version = [*changes, words], {**changed, **more}, tried
        if version.fits:
            return version
    return _smaller(asked, "plainer and smaller", changes, changed) or version if changes else None


def _steps(asked: Asked) -> Iterator[tuple[str, Facts]]:
    job = asked.priced.job
    for applies, words, changed in PLAINER:
        if applies(job):
            yield words, changed


def _could_be_lighter(job: Job) -> bool:
    return job.density.likely != "light" and any("light" in piece.work.builds for piece in job.pieces)


def _has_costly_finish(job: Job) -> bool:
    return job.mirror.high + job.doubled.high > NONE


def _has_accents(job: Job) -> bool:
    return job.accents.likely and any(piece.work.accents for piece in job.pieces)


def _could_be_left(job: Job) -> bool:
    return True in job.strike.options and not any(piece.work.comes_back for piece in job.pieces)


def _could_be_fetched(job: Job) -> bool:
    return not job.pick_up and all(piece.work.can_be_picked_up and not piece.piece.big for piece in job.pieces)


PLAINER: tuple[tuple[Callable[[Job], bool], str, Facts], ...] = (
    (_could_be_lighter, "light density", {"density": "light"}),
    (_has_costly_finish, "plain balloons, none mirror or doubled", {"finish": {}}),
    (_has_accents, "no accents", {"accents": False}),
    (_could_be_left, "the client takes it down", {"strike": False}),
    (_could_be_fetched, "picked up at the studio and set up by the client", {"pick_up": True, "strike": False}),
)
