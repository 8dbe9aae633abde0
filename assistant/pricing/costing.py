"""What one scenario costs: supplies, hours and travel, each entry with the rule and the fact that made it.

Entries are direct cost; the price follows by dividing out overhead, card fee and profit (see money).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from assistant.pricing.book import PriceBook
from assistant.pricing.client_only import bought_for, dearest_rest, rest_of_bags
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
from assistant.pricing.job import Job, JobPiece, Scenario
from assistant.pricing.labour import (
    build_hours,
    crew_size,
    needs_lift,
    setting_of,
    task_hours,
    times_built,
    waste_of,
)
from assistant.pricing.round_sums import late_extra, zone_extra

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
    hours = task_hours(job, at, book)
    helpers = crew_size(job, at, book) - 1
    helper_hours = helpers * (hours["drive"] / (TWO if at.strike else ONE) + hours["install"])
    entries: list[Entry] = []
    for i, piece in enumerate(job.pieces):
        entries += _supplies(job, piece, i, at, book)
        rules, built = (_build_rule(piece, at),), build_hours(job, at, book, i)
        entries.append(labour(f"piece {i}", "building", built, book, rules, "size", "density", "finish"))
    entries += _client_only(job, at, book)
    entries += _visit(job, at, book, hours, helper_hours)
    return Costing(tuple(entry for entry in entries if entry.amount), hours, helpers, helper_hours)


def _latex(piece: JobPiece, i: int, at: Scenario, book: PriceBook) -> Entry:
    """Balloons by expected use: the recipe and its waste in fractions; whole balloons stand on the supply list."""
    build, setting, finishes = piece.work.build(at.density), setting_of(at, book), book.prices.finishes
    once = sum((book.prices.balloons[size].each * n for size, n in build.balloons.items()), Decimal(0))
    dearer = ONE + at.mirror * (finishes.mirror.latex - ONE) + at.doubled * (finishes.doubled.latex - ONE)
    each = once * dearer * (ONE + waste_of(piece.work, setting))
    amount = times_built(at, build, i) * each * book.taught(piece.kind).balloons * at.own
    rules = [_build_rule(piece, at), price_rule("balloons"), price_rule("settings", at.setting, "waste")]
    rules += [price_rule("finishes", name) for name in ("mirror", "doubled") if getattr(at, name)]
    facts = ("size", "density", "finish", "setting")
    return Entry(f"piece {i}", "balloons with waste", amount, "goods", tuple(rules), facts)


def _gas(piece: JobPiece, i: int, at: Scenario, book: PriceBook) -> Entry:
    build, waste = piece.work.build(at.density), waste_of(piece.work, setting_of(at, book))
    feet = times_built(at, build, i) * build.helium_cubic_ft * (ONE + waste) * at.own
    rules, facts = (price_rule("helium_per_cubic_ft"), _build_rule(piece, at)), ("size", "pieces")
    amount = feet * book.prices.helium_per_cubic_ft
    return Entry(f"piece {i}", "helium", amount, "goods", rules, facts, False, feet, "cubic ft")


def _supplies(job: Job, piece: JobPiece, i: int, at: Scenario, book: PriceBook) -> Iterator[Entry]:
    line, count, work = f"piece {i}", at.counts[i], piece.work
    build = work.build(at.density)
    yield _latex(piece, i, at, book)
    yield _gas(piece, i, at, book)
    for name, cost_of_it in build.parts.items():
        amount, rule = times_built(at, build, i) * cost_of_it, _build_rule(piece, at)
        yield Entry(line, name, amount, "goods", (rule,), ("size", "pieces"))
    each = [("consumables", work.consumables, "goods", "pieces"), ("hardware", work.hardware, "rental", "pieces")]
    each += [("accents", work.accents, "goods", "accents")] if at.accents else []
    each += [("stand", work.stand, "rental", "stand")] if at.stand else []
    for name, amount, kind, fact in each:
        yield Entry(line, name, amount * count, kind, (recipe_rule(piece, name),), (fact,))
    for n, extra in enumerate(work.extras):
        yield Entry(line, extra.name, extra.cost * count, "goods", (recipe_rule(piece, "extras", n),), ("pieces",))
    if not job.pick_up:
        ballast, rule = setting_of(at, book).ballast * count, price_rule("settings", at.setting, "ballast")
        yield Entry(line, "ballast", ballast, "goods", (rule,), ("setting",))


def _client_only(job: Job, at: Scenario, book: PriceBook) -> Iterator[Entry]:
    """The unusable rest of bags bought for this client alone: once a job, on the line of its dearest piece."""
    if not at.client_only_colour:
        return
    dearest = dearest_rest(job)
    piece, by_the_bag = job.pieces[dearest], rest_of_bags(job, at, book)
    if by_the_bag is None:
        amount, rule = piece.work.client_only_colour, recipe_rule(piece, "client_only_colour")
        what = "rest of a bag for this client alone"
        yield Entry(f"piece {dearest}", what, amount, "goods", (rule,), ("client_only_colour",))
    else:
        what = f"rest of the bags of {', '.join(colour for colour, _ in bought_for(job))}, not in stock"
        rule = price_rule("balloons")
        yield Entry(f"piece {dearest}", what, by_the_bag, "goods", (rule,), ("stock", "colours", "size"))


def _visit(
    job: Job, at: Scenario, book: PriceBook, hours: dict[str, Decimal], helper_hours: Decimal
) -> Iterator[Entry]:
    """The part that all pieces of the job share."""
    visit = book.prices.visit
    for task in ("talk", "shop", "load"):
        yield labour(PLANNING, task, hours[task], book, (price_rule("visit", f"{task}_hours"),), "pieces")
    yield mileage(PLANNING, "shopping", visit.shop_miles, book, (price_rule("visit", "shop_miles"),), "pieces")
    if job.pick_up:
        return
    yield from _delivery(job, at, book, hours, helper_hours)
    if job.site_visit:
        rule = price_rule("visit", "site_visit_hours")
        yield from trip(DELIVERY, at, book, "pieces", "miles")
        yield labour(DELIVERY, "a look at the room first", visit.site_visit_hours, book, (rule,), "pieces")
    if at.strike:
        yield labour(STRIKE, "take-down", hours["strike"], book, (price_rule("strike_hours"),), "strike")
        yield from trip(STRIKE, at, book, "strike", "miles")
        yield _zone(STRIKE, at, book)
        if job.late_strike is not None:
            rules, amount = (price_rule("late_strike", job.late_strike),), late_extra(job, book)
            yield Entry(STRIKE, "late hour", amount, STRIKE, rules, ("strike_time",), True)


def _delivery(
    job: Job, at: Scenario, book: PriceBook, hours: dict[str, Decimal], helper_hours: Decimal
) -> Iterator[Entry]:
    visit, wages, crew = book.prices.visit, book.prices.wages, book.prices.crew
    yield from trip(DELIVERY, at, book, "miles")
    yield _zone(DELIVERY, at, book)
    yield Entry(DELIVERY, "parking", visit.parking, DELIVERY, (price_rule("visit", "parking"),), ("miles",))
    recipes = (recipe_rule(piece, "install_minutes") for piece in job.pieces)
    install = (*recipes, price_rule("settings", at.setting, "install"))
    yield labour(DELIVERY, "install", hours["install"], book, install, "size", "setting")
    if any(needs_lift(height, job, book) for height in at.heights):
        yield Entry(DELIVERY, "lift hire", crew.lift_hire, "rental", (price_rule("crew", "lift_hire"),), ("size",))
    helper = helper_hours * wages.helper_per_hour * (ONE + wages.helper_payroll)
    rules = (price_rule("crew"), price_rule("wages", "helper_per_hour"))
    yield Entry(DELIVERY, "helper", helper, "labour", rules, ("crew", "size"), False, helper_hours, "h")


def _zone(line: str, at: Scenario, book: PriceBook) -> Entry:
    row = book.prices.travel.zone(at.miles)
    rule = price_rule("travel", "zones", *(() if row is None else (row,)))
    what = "zone's round sum instead of miles and hours"
    return Entry(line, what, zone_extra(at, book), line, (rule,), ("miles",), True)


def _build_rule(piece: JobPiece, at: Scenario) -> Rule:
    return recipe_rule(piece, "builds", at.density if at.density in piece.work.builds else "standard")
