"""The owner's hours by task, and how many people install."""

from decimal import Decimal

from assistant.pricing.book import PriceBook
from assistant.pricing.goods import Setting
from assistant.pricing.job import Job, Scenario
from assistant.pricing.recipes import Build

ONE, TWO, HOUR = Decimal(1), Decimal(2), Decimal(60)
TASKS = ("talk", "shop", "build", "load", "drive", "install", "strike")


def crew_size(job: Job, at: Scenario, book: PriceBook) -> int:
    """Return how many install: the number given, or by the rules for long, high and several big pieces."""
    if job.crew is not None:
        return job.crew
    rules, least, big = book.prices.crew, 1, Decimal(0)
    for piece, units, height, count in zip(job.pieces, at.units, at.heights, at.counts, strict=True):
        least = max(least, piece.work.crew_at_least)
        if piece.piece.big or (piece.runs and units >= rules.big_from_ft):
            big += count
        long = piece.runs and units > rules.second_longer_than_ft
        if long or (height is not None and height > rules.second_higher_than_ft):
            least = max(least, 2)
    return max(least, 2) if big >= rules.second_from_big_pieces else least


def task_hours(at: Scenario, book: PriceBook, build: Decimal, install: Decimal) -> dict[str, Decimal]:
    """Return the owner's hours by task; a take-down is a second round trip and its time on site."""
    visit, visits = book.prices.visit, TWO if at.strike else ONE
    return {
        "talk": visit.talk_hours,
        "shop": visit.shop_hours,
        "build": build,
        "load": visit.load_hours,
        "drive": book.prices.travel.hours(at.miles) * TWO * visits,
        "install": install,
        "strike": book.prices.strike_hours * at.own if at.strike else Decimal(0),
    }


def build_hours(job: Job, at: Scenario, book: PriceBook, i: int) -> Decimal:
    """Return one person's hours to build piece ``i``, slower for the share of doubled balloons."""
    piece, finishes = job.pieces[i], book.prices.finishes
    build = piece.work.build(at.density)
    slower = ONE + at.mirror * (finishes.mirror.build - ONE) + at.doubled * (finishes.doubled.build - ONE)
    taught = book.taught(piece.kind).build
    return times_built(at, build, i) * build.minutes / HOUR * slower * taught * at.own


def install_hours(job: Job, at: Scenario, book: PriceBook, i: int) -> Decimal:
    """Return one person's hours to install piece ``i``, slower outdoors, on a ladder and by what holds it."""
    piece, rules, height = job.pieces[i], book.prices.crew, at.heights[i]
    minutes = piece.work.install_minutes + piece.work.install_minutes_per_unit * at.units[i]
    ladder = rules.ladder_install if height is not None and height > rules.ladder_above_ft else ONE
    mount = ONE if piece.mount is None else rules.mounts[piece.mount]
    factor = setting_of(at, book).install * ladder * mount
    return at.counts[i] * minutes / HOUR * factor * book.taught(piece.kind).install * at.own


def times_built(at: Scenario, build: Build, i: int) -> Decimal:
    """Return how many times the recipe of piece ``i`` is built."""
    return at.units[i] * at.counts[i] / build.for_units


def setting_of(at: Scenario, book: PriceBook) -> Setting:
    """Return what the scenario's setting adds."""
    setting: Setting = getattr(book.prices.settings, at.setting)
    return setting
