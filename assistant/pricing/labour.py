"""The owner's hours by task, and how many people install."""

from decimal import Decimal

from assistant.pricing.book import PriceBook
from assistant.pricing.goods import Setting
from assistant.pricing.job import Job, Scenario
from assistant.pricing.recipes import Build, Work

ZERO, ONE, TWO, HOUR = Decimal(0), Decimal(1), Decimal(2), Decimal(60)
SITE_VISIT = "site_visit"


def crew_size(job: Job, at: Scenario, book: PriceBook) -> int:
    """Return how many install: the number given, or by the rules for long, high, many big pieces and little time."""
    if job.pick_up:
        return 1
    if job.crew is not None:
        return job.crew
    rules, least, big = book.prices.crew, 1, Decimal(0)
    if job.window_minutes is not None and job.window_minutes < rules.second_window_under_minutes:
        least = 2
    for piece, units, height, count in zip(job.pieces, at.units, at.heights, at.counts, strict=True):
        least = max(least, piece.work.crew_at_least)
        if piece.piece.big or (piece.runs and units >= rules.big_from_ft):
            big += count
        long = piece.runs and units > rules.second_longer_than_ft
        if long or (height is not None and height > rules.second_higher_than_ft):
            least = max(least, 2)
    return max(least, 2) if big >= rules.second_from_big_pieces else least


def task_hours(job: Job, at: Scenario, book: PriceBook) -> dict[str, Decimal]:
    """Return the owner's hours by task; a take-down is a second round trip and its time on site.

    A visit to look at the room first is a task of its own, its driving included: it falls on another day.
    """
    visit, visits = book.prices.visit, TWO if at.strike else ONE
    trip = book.prices.travel.hours(at.miles) * TWO
    pieces = range(len(job.pieces))
    hours = {
        "talk": visit.talk_hours,
        "shop": visit.shop_hours,
        "build": sum((build_hours(job, at, book, i) for i in pieces), ZERO),
        "load": visit.load_hours,
        "drive": trip * visits,
        "install": sum((install_hours(job, at, book, i) for i in pieces), ZERO) + carry_hours(job, book),
        "strike": strike_hours(job, at, book) if at.strike else ZERO,
    }
    return {**hours, SITE_VISIT: trip + visit.site_visit_hours} if job.site_visit else hours


def strike_hours(job: Job, at: Scenario, book: PriceBook) -> Decimal:
    """Return the hours on site of a take-down, clearing up included."""
    pieces = zip(job.pieces, at.units, at.counts, strict=True)
    clearing = sum((piece.work.take_down_minutes_per_unit * units * count for piece, units, count in pieces), ZERO)
    return (book.prices.strike_hours + clearing / HOUR) * at.own


def carry_hours(job: Job, book: PriceBook) -> Decimal:
    """Return what a long way from the van, or stairs without a lift, adds to the installing."""
    return book.prices.crew.long_carry_minutes / HOUR if job.long_carry and not job.pick_up else ZERO


def on_a_ladder(work: Work, height: Decimal | None, book: PriceBook) -> bool:
    """Tell whether the height slows the installing beyond the minutes of the recipe."""
    return height is not None and height > book.prices.crew.ladder_above_ft and not work.height_included


def needs_lift(height: Decimal | None, job: Job, book: PriceBook) -> bool:
    """Tell whether a piece hangs higher than a ladder goes."""
    return height is not None and height > book.prices.crew.lift_above_ft and not job.pick_up


def build_hours(job: Job, at: Scenario, book: PriceBook, i: int) -> Decimal:
    """Return one person's hours to build piece ``i``, slower for the share of doubled balloons."""
    piece, finishes = job.pieces[i], book.prices.finishes
    build = piece.work.build(at.density)
    slower = ONE + at.mirror * (finishes.mirror.build - ONE) + at.doubled * (finishes.doubled.build - ONE)
    taught = book.taught(piece.kind).build
    return times_built(at, build, i) * build.minutes / HOUR * slower * taught * at.own


def install_hours(job: Job, at: Scenario, book: PriceBook, i: int) -> Decimal:
    """Return one person's hours to install piece ``i``, slower outdoors, on a ladder and by what holds it."""
    if job.pick_up:
        return ZERO
    piece, rules, height = job.pieces[i], book.prices.crew, at.heights[i]
    minutes = piece.work.install_minutes + piece.work.install_minutes_per_unit * at.units[i]
    ladder = rules.ladder_install if on_a_ladder(piece.work, height, book) else ONE
    mount = ONE if piece.mount is None else rules.mounts[piece.mount]
    factor = setting_of(at, book).install * ladder * mount
    return at.counts[i] * minutes / HOUR * factor * book.taught(piece.kind).install * at.own


def times_built(at: Scenario, build: Build, i: int) -> Decimal:
    """Return how many times the recipe of piece ``i`` is built."""
    return at.units[i] * at.counts[i] / build.for_units


def waste_of(work: Work, setting: Setting) -> Decimal:
    """Return the share of balloons used beyond the recipe: none where they are counted, else by work or setting."""
    if work.counted:
        return ZERO
    return setting.waste if work.waste is None else work.waste


def setting_of(at: Scenario, book: PriceBook) -> Setting:
    """Return what the scenario's setting adds."""
    setting: Setting = getattr(book.prices.settings, at.setting)
    return setting
