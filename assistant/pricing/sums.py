"""What one scenario costs, as sums alone: the quick way to the ends of a range.

A range with its narrowing prices a job a dozen times or more, and only a few of those prices are ever explained.
So the figures of a job are laid out once, for each unit of each piece, and a scenario is a few products of them.
costing.py writes out the same cost entry by entry; a property test holds both equal.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from assistant.pricing.book import PriceBook
from assistant.pricing.goods import Setting
from assistant.pricing.job import Job, JobPiece, Scenario
from assistant.pricing.labour import crew_size
from assistant.pricing.money import price_share
from assistant.pricing.recipes import Build
from assistant.pricing.unknowns import Density

ZERO, ONE, TWO, HOUR = Decimal(0), Decimal(1), Decimal(2), Decimal(60)


class Sums(NamedTuple):
    """Direct cost by line in currency units, what of it is paid out to others, and the owner's hours."""

    pieces: tuple[Decimal, ...]
    planning: Decimal
    delivery: Decimal
    strike: Decimal
    direct: Decimal
    paid_out: Decimal
    own_hours: Decimal


class Unit(NamedTuple):
    """What one foot, square foot or piece takes at one density: money before finish and waste, and build hours."""

    latex: Decimal
    gas: Decimal
    parts: Decimal
    build: Decimal


@dataclass(frozen=True, slots=True)
class PieceLayout:
    """One piece's figures: by density what a unit takes, hours of installing, and the goods of each piece."""

    units: dict[Density, Unit]
    install: Decimal
    install_per_unit: Decimal
    goods: Decimal
    accents: Decimal
    stand: Decimal
    counted: bool


@dataclass(frozen=True, slots=True)
class Layout:
    """A job's figures, laid out for adding."""

    job: Job
    book: PriceBook
    pieces: tuple[PieceLayout, ...]
    planning_hours: Decimal
    planning: Decimal
    client_only: Decimal
    client_only_piece: int
    helper: Decimal


def lay_out(job: Job, book: PriceBook) -> Layout:
    """Return the figures of ``job`` that no open fact changes."""
    visit, wages = book.prices.visit, book.prices.wages
    hours = visit.talk_hours + visit.shop_hours + visit.load_hours
    rests = [piece.work.client_only_colour for piece in job.pieces]
    return Layout(
        job=job,
        book=book,
        pieces=tuple(_piece_layout(piece, job, book) for piece in job.pieces),
        planning_hours=hours,
        planning=hours * wages.owner_per_hour + visit.shop_miles * book.prices.travel.per_mile,
        client_only=max(rests),
        client_only_piece=rests.index(max(rests)),
        helper=wages.helper_per_hour * (ONE + wages.helper_payroll),
    )


def _piece_layout(piece: JobPiece, job: Job, book: PriceBook) -> PieceLayout:
    work, taught = piece.work, book.taught(piece.kind)
    mount = ONE if piece.mount is None else book.prices.crew.mounts[piece.mount]
    by_minutes = mount * taught.install / HOUR
    return PieceLayout(
        units={density: _unit(piece, work.build(density), book) for density in job.density.options},
        install=work.install_minutes * by_minutes,
        install_per_unit=work.install_minutes_per_unit * by_minutes,
        goods=work.consumables + work.hardware + sum((extra.cost for extra in work.extras), ZERO),
        accents=work.accents,
        stand=work.stand,
        counted=work.counted,
    )


def _unit(piece: JobPiece, build: Build, book: PriceBook) -> Unit:
    taught, per = book.taught(piece.kind), build.for_units
    latex = sum((book.prices.balloons[size].each * n for size, n in build.balloons.items()), ZERO)
    return Unit(
        latex=latex * taught.balloons / per,
        gas=build.helium_cubic_ft * book.prices.helium_per_cubic_ft / per,
        parts=sum(build.parts.values(), ZERO) / per,
        build=build.minutes * taught.build / (per * HOUR),
    )


def add_up(layout: Layout, at: Scenario) -> Sums:
    """Return what ``layout``'s job costs with the one value for each fact that ``at`` holds."""
    prices = layout.book.prices
    wage = prices.wages.owner_per_hour
    setting: Setting = getattr(prices.settings, at.setting)
    finishes = prices.finishes
    dearer = ONE + at.mirror * (finishes.mirror.latex - ONE) + at.doubled * (finishes.doubled.latex - ONE)
    slower = ONE + at.mirror * (finishes.mirror.build - ONE) + at.doubled * (finishes.doubled.build - ONE)
    pieces, built, installed = [], ZERO, ZERO
    for i, piece in enumerate(layout.pieces):
        unit, count = piece.units[at.density], at.counts[i]
        times = at.units[i] * count
        used = at.own if piece.counted else at.own * (ONE + setting.waste)
        goods = times * (used * (unit.latex * dearer + unit.gas) + unit.parts)
        goods += count * (piece.goods + setting.ballast)
        if at.accents:
            goods += count * piece.accents
        if at.stand:
            goods += count * piece.stand
        build = times * unit.build * slower * at.own
        pieces.append(goods + build * wage)
        built += build
        installed += _install(layout, piece, i, at, setting)
    if at.client_only_colour:
        pieces[layout.client_only_piece] += layout.client_only
    return _with_visit(layout, at, tuple(pieces), built, installed)


def _install(layout: Layout, piece: PieceLayout, i: int, at: Scenario, setting: Setting) -> Decimal:
    rules, height = layout.book.prices.crew, at.heights[i]
    hours = at.counts[i] * (piece.install + piece.install_per_unit * at.units[i]) * setting.install * at.own
    return hours * rules.ladder_install if height is not None and height > rules.ladder_above_ft else hours


def _with_visit(layout: Layout, at: Scenario, pieces: tuple[Decimal, ...], built: Decimal, installed: Decimal) -> Sums:
    prices = layout.book.prices
    wage, travel = prices.wages.owner_per_hour, prices.travel
    driving, driven = TWO * travel.hours(at.miles), TWO * at.miles * travel.per_mile
    helpers = crew_size(layout.job, at, layout.book) - 1
    delivery = driven + prices.visit.parking + (driving + installed) * wage
    if helpers:
        delivery += helpers * (driving + installed) * layout.helper
    own_hours = layout.planning_hours + built + installed + driving
    strike = kept = ZERO
    if at.strike:
        on_site = prices.strike_hours * at.own
        kept = _late(layout)
        strike = driven + (driving + on_site) * wage + kept
        own_hours += driving + on_site
    direct = sum(pieces, layout.planning + delivery + strike)
    return Sums(pieces, layout.planning, delivery, strike, direct, direct - own_hours * wage - kept, own_hours)


def _late(layout: Layout) -> Decimal:
    """A late take-down adds a round sum to the price, so its cost is what is left of that sum."""
    row, prices = layout.job.late_strike, layout.book.prices
    return ZERO if row is None else prices.late_strike[row].adds * price_share(prices.shares)
