"""What one scenario costs: supplies, hours and travel, each entry with the rule and the fact that made it.

Entries are direct cost; the price follows by dividing out overhead, card fee and profit (see money).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from assistant.pricing.book import PriceBook
from assistant.pricing.entries import (
    DELIVERY,
    PLANNING,
    STRIKE,
    Entry,
    Rule,
    labour,
    mileage,
    price_rule,
    recipe_rule,
    trip,
)
from assistant.pricing.goods import Setting
from assistant.pricing.job import Job, JobPiece, Scenario
from assistant.pricing.labour import build_hours, crew_size, install_hours, setting_of, task_hours, times_built
from assistant.pricing.money import price_share

ONE, TWO = Decimal(1), Decimal(2)


@dataclass(frozen=True)
class Costing:
    """The entries of one scenario, the owner's hours by task, and how many helpers come for how many hours."""

    entries: tuple[Entry, ...]
    hours: dict[str, Decimal]
    helpers: int
    helper_hours: Decimal

    @property
    def direct(self) -> Decimal:
        """Return direct cost, the owner's wage included."""
        return sum((entry.amount for entry in self.entries), Decimal(0))

    @property
    def paid_out(self) -> Decimal:
        """Return direct cost without the owner's own wage."""
        return sum((entry.amount for entry in self.entries if not entry.own_labour), Decimal(0))

    @property
    def own_hours(self) -> Decimal:
        """Return the owner's hours."""
        return sum(self.hours.values(), Decimal(0))


def cost(job: Job, at: Scenario, book: PriceBook) -> Costing:
    """Return the costing of ``job`` with the one value for each fact that ``at`` holds."""
    builds = [build_hours(job, at, book, i) for i in range(len(job.pieces))]
    installs = [install_hours(job, at, book, i) for i in range(len(job.pieces))]
    hours = task_hours(at, book, sum(builds, Decimal(0)), sum(installs, Decimal(0)))
    helpers = crew_size(job, at, book) - 1
    helper_hours = helpers * (hours["drive"] / (TWO if at.strike else ONE) + hours["install"])
    entries: list[Entry] = []
    for i, piece in enumerate(job.pieces):
        entries += _supplies(piece, i, at, book)
        rules = (_build_rule(piece, at),)
        entries.append(labour(f"piece {i}", "building", builds[i], book, rules, "size", "density", "finish"))
    entries += _client_only(job, at)
    entries += _visit(job, at, book, hours, helper_hours)
    return Costing(tuple(entry for entry in entries if entry.amount), hours, helpers, helper_hours)


def _latex(piece: JobPiece, i: int, at: Scenario, book: PriceBook) -> Entry:
    """Balloons by expected use: the recipe and its waste in fractions; whole balloons stand on the supply list."""
    build, setting, finishes = piece.work.build(at.density), setting_of(at, book), book.prices.finishes
    once = sum((book.prices.balloons[size].each * n for size, n in build.balloons.items()), Decimal(0))
    dearer = ONE + at.mirror * (finishes.mirror.latex - ONE) + at.doubled * (finishes.doubled.latex - ONE)
    each = once * dearer * (ONE + _waste(piece, setting))
    amount = times_built(at, build, i) * each * book.taught(piece.kind).balloons * at.own
    rules = [_build_rule(piece, at), price_rule("balloons"), price_rule("settings", at.setting, "waste")]
    rules += [price_rule("finishes", name) for name in ("mirror", "doubled") if getattr(at, name)]
    facts = ("size", "density", "finish", "setting")
    return Entry(f"piece {i}", "balloons with waste", amount, "goods", tuple(rules), facts)


def _gas(piece: JobPiece, i: int, at: Scenario, book: PriceBook) -> Entry:
    build = piece.work.build(at.density)
    feet = times_built(at, build, i) * build.helium_cubic_ft * (ONE + _waste(piece, setting_of(at, book))) * at.own
    rules, facts = (price_rule("helium_per_cubic_ft"), _build_rule(piece, at)), ("size", "pieces")
    amount = feet * book.prices.helium_per_cubic_ft
    return Entry(f"piece {i}", "helium", amount, "goods", rules, facts, False, feet, "cubic ft")


def _supplies(piece: JobPiece, i: int, at: Scenario, book: PriceBook) -> Iterator[Entry]:
    line, count, work = f"piece {i}", at.counts[i], piece.work
    build = work.build(at.density)
    yield _latex(piece, i, at, book)
    yield _gas(piece, i, at, book)
    for name, cost_of_it in build.parts.items():
        amount, rule = times_built(at, build, i) * cost_of_it, _build_rule(piece, at)
        yield Entry(line, name, amount, "goods", (rule,), ("size", "pieces"))
    each = [("consumables", work.consumables, "pieces"), ("hardware", work.hardware, "pieces")]
    each += [("accents", work.accents, "accents")] if at.accents else []
    each += [("stand", work.stand, "stand")] if at.stand else []
    for name, amount, fact in each:
        yield Entry(line, name, amount * count, "goods", (recipe_rule(piece, name),), (fact,))
    for n, extra in enumerate(work.extras):
        yield Entry(line, extra.name, extra.cost * count, "goods", (recipe_rule(piece, "extras", n),), ("pieces",))
    ballast, rule = setting_of(at, book).ballast * count, price_rule("settings", at.setting, "ballast")
    yield Entry(line, "ballast", ballast, "goods", (rule,), ("setting",))


def _client_only(job: Job, at: Scenario) -> Iterator[Entry]:
    """The unusable rest of a bag bought for this client alone: once a job, the dearest of its pieces."""
    dearest = max(range(len(job.pieces)), key=lambda i: job.pieces[i].work.client_only_colour)
    if at.client_only_colour:
        piece = job.pieces[dearest]
        amount, rule = piece.work.client_only_colour, recipe_rule(piece, "client_only_colour")
        what = "rest of a bag for this client alone"
        yield Entry(f"piece {dearest}", what, amount, "goods", (rule,), ("client_only_colour",))


def _visit(
    job: Job, at: Scenario, book: PriceBook, hours: dict[str, Decimal], helper_hours: Decimal
) -> Iterator[Entry]:
    """The part that all pieces of the job share."""
    visit, wages = book.prices.visit, book.prices.wages
    for task in ("talk", "shop", "load"):
        yield labour(PLANNING, task, hours[task], book, (price_rule("visit", f"{task}_hours"),), "pieces")
    yield mileage(PLANNING, "shopping", visit.shop_miles, book, (price_rule("visit", "shop_miles"),), "pieces")
    yield from trip(DELIVERY, at, book, "miles")
    yield Entry(DELIVERY, "parking", visit.parking, "delivery", (price_rule("visit", "parking"),), ("miles",))
    recipes = (recipe_rule(piece, "install_minutes") for piece in job.pieces)
    install = (*recipes, price_rule("settings", at.setting, "install"))
    yield labour(DELIVERY, "install", hours["install"], book, install, "size", "setting")
    helper = helper_hours * wages.helper_per_hour * (ONE + wages.helper_payroll)
    rules = (price_rule("crew"), price_rule("wages", "helper_per_hour"))
    yield Entry(DELIVERY, "helper", helper, "labour", rules, ("crew", "size"), False, helper_hours, "h")
    if at.strike:
        yield labour(STRIKE, "take-down", hours["strike"], book, (price_rule("strike_hours"),), "strike")
        yield from trip(STRIKE, at, book, "strike", "miles")
        if job.late_strike is not None:
            yield _late(job.late_strike, book)


def _late(row: int, book: PriceBook) -> Entry:
    """A late take-down adds a round sum to the price, so its cost is what is left of that sum."""
    amount = book.prices.late_strike[row].adds * price_share(book.prices.shares)
    return Entry(STRIKE, "late hour", amount, "strike", (price_rule("late_strike", row),), ("strike_time",), True)


def _build_rule(piece: JobPiece, at: Scenario) -> Rule:
    return recipe_rule(piece, "builds", at.density if at.density in piece.work.builds else "standard")


def _waste(piece: JobPiece, setting: Setting) -> Decimal:
    return Decimal(0) if piece.work.counted else setting.waste
