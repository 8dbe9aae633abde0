"""What one scenario costs, as sums alone: the quick way to the ends of a range.

A range with its narrowing prices a job a dozen times or more, and only a few of those prices are ever explained.
So the figures of a job are laid out once, for each unit of each piece, and a scenario is a few products of them.
costing.py writes out the same cost entry by entry; a property test holds both equal.
"""

from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from assistant.pricing.book import PriceBook
from assistant.pricing.client_only import bought_for, dearest_rest, rest_of_bags
from assistant.pricing.goods import Setting
from assistant.pricing.job import Job, JobPiece, Scenario
from assistant.pricing.labour import carry_hours, crew_size, needs_lift, on_a_ladder, strike_hours, waste_of
from assistant.pricing.recipes import Build, Work
from assistant.pricing.round_sums import late_extra, zone_extra
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
    work: Work


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
    carry: Decimal


def lay_out(job: Job, book: PriceBook) -> Layout:
    """Return the figures of ``job`` that no open fact changes."""
    visit, wages = book.prices.visit, book.prices.wages
    hours = visit.talk_hours + visit.shop_hours + visit.load_hours
    return Layout(
        job=job,
        book=book,
        pieces=tuple(_piece_layout(piece, job, book) for piece in job.pieces),
        planning_hours=hours,
        planning=hours * wages.owner_per_hour + visit.shop_miles * book.prices.travel.per_mile,
        client_only=ZERO if bought_for(job) else job.pieces[dearest_rest(job)].work.client_only_colour,
        client_only_piece=dearest_rest(job),
        helper=wages.helper_per_hour * (ONE + wages.helper_payroll),
        carry=carry_hours(job, book),
    )


def _piece_layout(piece: JobPiece, job: Job, book: PriceBook) -> PieceLayout:
    work, taught = piece.work, book.taught(piece.kind)
    mount = ONE if piece.mount is None else book.prices.crew.mounts[piece.mount]
    by_minutes = ZERO if job.pick_up else mount * taught.install / HOUR
    return PieceLayout(
        units={density: _unit(piece, work.build(density), book) for density in job.density.options},
        install=work.install_minutes * by_minutes,
        install_per_unit=work.install_minutes_per_unit * by_minutes,
        goods=work.consumables + work.hardware + sum((extra.cost for extra in work.extras), ZERO),
        accents=work.accents,
        stand=work.stand,
        work=work,
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
    ballast = ZERO if layout.job.pick_up else setting.ballast
    pieces, built, installed = [], ZERO, layout.carry
    for i, piece in enumerate(layout.pieces):
        unit, count = piece.units[at.density], at.counts[i]
        times = at.units[i] * count
        used = at.own * (ONE + waste_of(piece.work, setting))
        goods = times * (used * (unit.latex * dearer + unit.gas) + unit.parts) + count * (piece.goods + ballast)
        if at.accents:
            goods += count * piece.accents
        if at.stand:
            goods += count * piece.stand
        build = times * unit.build * slower * at.own
        pieces.append(goods + build * wage)
        built += build
        installed += _install(layout, piece, i, at, setting)
    if at.client_only_colour:
        rest = rest_of_bags(layout.job, at, layout.book)
        pieces[layout.client_only_piece] += layout.client_only if rest is None else rest
    return _with_visit(layout, at, tuple(pieces), built, installed)


def _install(layout: Layout, piece: PieceLayout, i: int, at: Scenario, setting: Setting) -> Decimal:
    rules, height = layout.book.prices.crew, at.heights[i]
    hours = at.counts[i] * (piece.install + piece.install_per_unit * at.units[i]) * setting.install * at.own
    return hours * rules.ladder_install if on_a_ladder(piece.work, height, layout.book) else hours


def _with_visit(layout: Layout, at: Scenario, pieces: tuple[Decimal, ...], built: Decimal, installed: Decimal) -> Sums:
    prices = layout.book.prices
    wage, travel = prices.wages.owner_per_hour, prices.travel
    job, book = layout.job, layout.book
    driving, driven = TWO * travel.hours(at.miles), TWO * at.miles * travel.per_mile
    helpers = crew_size(job, at, book) - 1
    delivery = driven + (driving + installed) * wage
    own_hours = layout.planning_hours + built + installed + driving
    strike = kept = ZERO
    if not job.pick_up:
        kept = zone_extra(at, book)
        delivery += prices.visit.parking + kept
        delivery += prices.crew.lift_hire if any(needs_lift(height, job, book) for height in at.heights) else ZERO
    if helpers:
        delivery += helpers * (driving + installed) * layout.helper
    if job.site_visit:
        looking = driving + prices.visit.site_visit_hours
        delivery += driven + looking * wage
        own_hours += looking
    if at.strike:
        on_site = strike_hours(job, at, book)
        more = late_extra(job, book) + zone_extra(at, book)
        strike = driven + (driving + on_site) * wage + more
        own_hours += driving + on_site
        kept += more
    direct = sum(pieces, layout.planning + delivery + strike)
    return Sums(pieces, layout.planning, delivery, strike, direct, direct - own_hours * wage - kept, own_hours)
