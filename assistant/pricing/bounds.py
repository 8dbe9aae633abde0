"""The ends of a job's price: which values each open fact takes in the cheapest and in the dearest case.

Numbers (size, count, miles, shares of a finish) never make a job cheaper as they grow, so their two ends suffice.
Words (setting, density, a date's surcharge, yes or no) are compared by the figures behind them: a word that is at
most another in every figure is never the dearer one. Where two words cannot be ranked so, both are tried.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import product
from math import prod
from typing import Any, TypeVar

from assistant.pricing.book import PriceBook
from assistant.pricing.dates import DatePrice
from assistant.pricing.job import Choice, Job, Scenario
from assistant.pricing.unknowns import Between, Density

T = TypeVar("T")
Values = Mapping[str, Any]
Figures = tuple[Decimal, ...]
MOST_CASES = 256


@dataclass(frozen=True)
class Open:
    """A fact with several values left: what a scenario holds in its cheapest, likeliest and dearest cases."""

    fact: str
    lows: tuple[Values, ...]
    likely: Values
    highs: tuple[Values, ...]


def likely_scenario(job: Job) -> Scenario:
    """Return the scenario with each fact at its likeliest value."""
    return Scenario(
        units=tuple(piece.size.units.likely for piece in job.pieces),
        heights=_heights(job, "likely"),
        counts=tuple(piece.count.likely for piece in job.pieces),
        density=job.density.likely,
        setting=job.setting.likely,
        mirror=job.mirror.likely,
        doubled=job.doubled.likely,
        miles=job.miles.likely,
        strike=job.strike.likely,
        stand=job.stand.likely,
        accents=job.accents.likely,
        client_only_colour=job.client_only_colour.likely,
        date=job.date.likely,
    )


def open_facts(job: Job, book: PriceBook) -> list[Open]:
    """Return the facts that still move the price, in the order a designer would look at them."""
    found = [*_pieces(job), *_numbers(job), *_words(job, book)]
    return [fact for fact in found if fact.lows != fact.highs or len(fact.lows) > 1]


def corners(base: Scenario, facts: Sequence[Open], end: str) -> Iterator[Scenario]:
    """Yield the scenarios of which one is the cheapest (``end`` "lows") or the dearest ("highs")."""
    cases: list[tuple[Values, ...]] = [fact.lows if end == "lows" else fact.highs for fact in facts]
    count = prod(map(len, cases))
    if count > MOST_CASES:
        raise ValueError(f"the rules leave {count} cases to price: make indoor the mildest setting in every figure")
    for chosen in product(*cases):
        merged: dict[str, Any] = {}
        for values in chosen:
            merged.update(values)
        yield base._replace(**merged)


def _pieces(job: Job) -> Iterator[Open]:
    ends = ("low", "likely", "high")
    sizes = [
        {
            "units": tuple(getattr(piece.size.units, end) for piece in job.pieces),
            "heights": _heights(job, end),
        }
        for end in ends
    ]
    counts = [{"counts": tuple(getattr(piece.count, end) for piece in job.pieces)} for end in ends]
    if not job.pieces_said:
        low, likely, high = ({**size, **count} for size, count in zip(sizes, counts, strict=True))
        yield Open("pieces", (low,), likely, (high,))
        return
    yield Open("size", (sizes[0],), sizes[1], (sizes[2],))
    yield Open("pieces", (counts[0],), counts[1], (counts[2],))


def _heights(job: Job, end: str) -> tuple[Decimal | None, ...]:
    heights = (piece.size.height for piece in job.pieces)
    return tuple(None if height is None else getattr(height, end) for height in heights)


def _numbers(job: Job) -> Iterator[Open]:
    if job.miles.open:
        yield _number(job.miles_fact, "miles", job.miles)
    if not (job.mirror.open or job.doubled.open):
        return
    finish = [{"mirror": getattr(job.mirror, e), "doubled": getattr(job.doubled, e)} for e in ("low", "likely", "high")]
    yield Open(job.finish_fact, (finish[0],), finish[1], (finish[2],))


def _number(fact: str, field: str, value: Between) -> Open:
    return Open(fact, ({field: value.low},), {field: value.likely}, ({field: value.high},))


def _words(job: Job, book: PriceBook) -> Iterator[Open]:
    if job.setting.open:
        yield _word("setting", "setting", job.setting, lambda word: _setting_figures(word, book))
    if job.density.open:
        yield _word("density", "density", job.density, lambda word: _density_figures(word, job))
    if job.date.open:
        yield _word("event_date", "date", job.date, _date_figures)
    for name in ("strike", "stand", "accents", "client_only_colour"):
        choice: Choice[bool] = getattr(job, name)
        if choice.open:
            yield _word(name, name, choice, lambda yes: (Decimal(yes),))


def _word(fact: str, field: str, choice: Choice[T], figures: Callable[[T], Figures]) -> Open:
    lows, highs = extremes(choice.options, figures)
    return Open(fact, tuple({field: o} for o in lows), {field: choice.likely}, tuple({field: o} for o in highs))


def extremes(options: Sequence[T], figures: Callable[[T], Figures]) -> tuple[list[T], list[T]]:
    """Return the options of which one is the cheapest, and those of which one is the dearest.

    An option drops out when another is at most (at least) as large in every figure; of equals the first stays.
    """
    rows = [(option, figures(option)) for option in options]
    return _undominated(rows, lambda a, b: a <= b), _undominated(rows, lambda a, b: a >= b)


def _undominated(rows: Sequence[tuple[T, Figures]], beats: Callable[[Decimal, Decimal], bool]) -> list[T]:
    kept = []
    for i, (option, mine) in enumerate(rows):
        beaten = any(
            all(beats(a, b) for a, b in zip(other, mine, strict=True)) and (other != mine or j < i)
            for j, (_, other) in enumerate(rows)
            if j != i
        )
        if not beaten:
            kept.append(option)
    return kept


def _setting_figures(word: str, book: PriceBook) -> Figures:
    setting = getattr(book.prices.settings, word)
    return setting.waste, setting.install, setting.ballast


def _density_figures(word: Density, job: Job) -> Figures:
    """Balloons of each size, minutes, parts and gas, for each piece of the job."""
    figures: list[Decimal] = []
    for piece in job.pieces:
        sizes = sorted({size for build in piece.work.builds.values() for size in build.balloons})
        build = piece.work.build(word)
        figures += [build.balloons.get(size, Decimal(0)) / build.for_units for size in sizes]
        parts = sum(build.parts.values(), Decimal(0))
        figures += [figure / build.for_units for figure in (build.minutes, parts, build.helium_cubic_ft)]
    return tuple(figures)


def _date_figures(date: DatePrice) -> Figures:
    return date.peak, date.rush, date.rush_least
