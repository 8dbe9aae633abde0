"""What one scenario costs: supplies, hours and travel, each entry with the rule and the fact that made it.

Entries are direct cost; the price follows by dividing out overhead, card fee and profit (see money).
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import NamedTuple

from assistant.pricing.book import PriceBook, RulePath
from assistant.pricing.goods import Setting
from assistant.pricing.job import Job, JobPiece, Scenario
from assistant.pricing.recipes import Build

ONE, TWO, HOUR = Decimal(1), Decimal(2), Decimal(60)
Rule = tuple[str, RulePath]  # a rule file and a key in it
PLANNING, DELIVERY, STRIKE = "planning", "delivery", "strike"
TASKS = ("talk", "shop", "build", "load", "drive", "install", "strike")


class Entry(NamedTuple):
    """One cost: the line it belongs to, its words, amount and kind, the rules and the facts that made it.

    A tuple, because a range makes hundreds of them.
    """

    line: str
    what: str
    amount: Decimal
    kind: str
    rules: tuple[Rule, ...]
    facts: tuple[str, ...]
    own_labour: bool = False
    quantity: Decimal | None = None
    unit: str = ""

    @property
    def words(self) -> str:
        """Return what was counted, with its quantity."""
        return self.what if self.quantity is None else f"{self.what}: {self.quantity:.2f} {self.unit}"


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
    builds = [_build_hours(job, at, book, i) for i in range(len(job.pieces))]
    installs = [_install_hours(job, at, book, i) for i in range(len(job.pieces))]
    hours = _hours(at, book, sum(builds, Decimal(0)), sum(installs, Decimal(0)))
    helpers = crew_size(job, at, book) - 1
    helper_hours = helpers * (hours["drive"] / (TWO if at.strike else ONE) + hours["install"])
    entries: list[Entry] = []
    for i, piece in enumerate(job.pieces):
        entries += _supplies(piece, i, at, book)
        rules = (_build_rule(piece, at),)
        entries.append(_labour(f"piece {i}", "building", builds[i], book, rules, "size", "density", "finish"))
    entries += _client_only(job, at)
    entries += _visit(at, book, hours, helper_hours)
    return Costing(tuple(entry for entry in entries if entry.amount), hours, helpers, helper_hours)


def crew_size(job: Job, at: Scenario, book: PriceBook) -> int:
    """Return how many install: the number given, or by the rules for long, high and several big pieces."""
    if job.crew is not None:
        return job.crew
    rules = book.prices.crew
    big = sum(
        count
        for piece, units, count in zip(job.pieces, at.units, at.counts, strict=True)
        if piece.piece.big or (piece.runs and units >= rules.big_from_ft)
    )
    long = any(
        piece.runs and units > rules.second_longer_than_ft for piece, units in zip(job.pieces, at.units, strict=True)
    )
    high = any(height is not None and height > rules.second_higher_than_ft for height in at.heights)
    two = 2 if long or high or big >= rules.second_from_big_pieces else 1
    return max(two, *(piece.work.crew_at_least for piece in job.pieces))


def _hours(at: Scenario, book: PriceBook, build: Decimal, install: Decimal) -> dict[str, Decimal]:
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


def _build_hours(job: Job, at: Scenario, book: PriceBook, i: int) -> Decimal:
    piece, finishes = job.pieces[i], book.prices.finishes
    build = piece.work.build(at.density)
    slower = ONE + at.mirror * (finishes.mirror.build - ONE) + at.doubled * (finishes.doubled.build - ONE)
    taught = book.taught(piece.kind).build
    return _amount(at, build, i) * build.minutes / HOUR * slower * taught * at.own


def _install_hours(job: Job, at: Scenario, book: PriceBook, i: int) -> Decimal:
    piece, rules, height = job.pieces[i], book.prices.crew, at.heights[i]
    minutes = piece.work.install_minutes + piece.work.install_minutes_per_unit * at.units[i]
    ladder = rules.ladder_install if height is not None and height > rules.ladder_above_ft else ONE
    mount = ONE if piece.mount is None else rules.mounts[piece.mount]
    factor = _setting(at, book).install * ladder * mount
    return at.counts[i] * minutes / HOUR * factor * book.taught(piece.kind).install * at.own


def _amount(at: Scenario, build: Build, i: int) -> Decimal:
    """How many times the recipe is built."""
    return at.units[i] * at.counts[i] / build.for_units


def _prices(*path: str | int) -> Rule:
    return "prices.yaml", path


def _recipe(piece: JobPiece, *path: str | int) -> Rule:
    return "pieces.yaml", ("work", piece.piece.work, *path)


def _build_rule(piece: JobPiece, at: Scenario) -> Rule:
    return _recipe(piece, "builds", at.density if at.density in piece.work.builds else "standard")


def _labour(line: str, what: str, hours: Decimal, book: PriceBook, rules: tuple[Rule, ...], *facts: str) -> Entry:
    amount = hours * book.prices.wages.owner_per_hour
    return Entry(line, what, amount, "labour", (*rules, WAGE), facts, True, hours, "h")


def _latex(piece: JobPiece, i: int, at: Scenario, book: PriceBook) -> Entry:
    """Balloons by expected use: the recipe and its waste in fractions; whole balloons stand on the supply list."""
    build, setting, finishes = piece.work.build(at.density), _setting(at, book), book.prices.finishes
    once = sum((book.prices.balloons[size].each * n for size, n in build.balloons.items()), Decimal(0))
    dearer = ONE + at.mirror * (finishes.mirror.latex - ONE) + at.doubled * (finishes.doubled.latex - ONE)
    amount = (
        _amount(at, build, i)
        * once
        * dearer
        * (ONE + _waste(piece, setting))
        * book.taught(piece.kind).balloons
        * at.own
    )
    rules = [_build_rule(piece, at), _prices("balloons"), _prices("settings", at.setting, "waste")]
    rules += [_prices("finishes", name) for name in ("mirror", "doubled") if getattr(at, name)]
    facts = ("size", "density", "finish", "setting")
    return Entry(f"piece {i}", "balloons with waste", amount, "goods", tuple(rules), facts)


def _gas(piece: JobPiece, i: int, at: Scenario, book: PriceBook) -> Entry:
    build = piece.work.build(at.density)
    feet = _amount(at, build, i) * build.helium_cubic_ft * (ONE + _waste(piece, _setting(at, book))) * at.own
    rules, facts = (_prices("helium_per_cubic_ft"), _build_rule(piece, at)), ("size", "pieces")
    amount = feet * book.prices.helium_per_cubic_ft
    return Entry(f"piece {i}", "helium", amount, "goods", rules, facts, False, feet, "cubic ft")


def _supplies(piece: JobPiece, i: int, at: Scenario, book: PriceBook) -> Iterator[Entry]:
    line, count, work = f"piece {i}", at.counts[i], piece.work
    build = work.build(at.density)
    yield _latex(piece, i, at, book)
    yield _gas(piece, i, at, book)
    for name, cost_of_it in build.parts.items():
        amount, rule = _amount(at, build, i) * cost_of_it, _build_rule(piece, at)
        yield Entry(line, name, amount, "goods", (rule,), ("size", "pieces"))
    each = [("consumables", work.consumables, "pieces"), ("hardware", work.hardware, "pieces")]
    each += [("accents", work.accents, "accents")] if at.accents else []
    each += [("stand", work.stand, "stand")] if at.stand else []
    for name, amount, fact in each:
        yield Entry(line, name, amount * count, "goods", (_recipe(piece, name),), (fact,))
    for n, extra in enumerate(work.extras):
        yield Entry(line, extra.name, extra.cost * count, "goods", (_recipe(piece, "extras", n),), ("pieces",))
    ballast, rule = _setting(at, book).ballast * count, _prices("settings", at.setting, "ballast")
    yield Entry(line, "ballast", ballast, "goods", (rule,), ("setting",))


def _client_only(job: Job, at: Scenario) -> Iterator[Entry]:
    """The unusable rest of a bag bought for this client alone: once a job, the dearest of its pieces."""
    dearest = max(range(len(job.pieces)), key=lambda i: job.pieces[i].work.client_only_colour)
    if at.client_only_colour:
        piece = job.pieces[dearest]
        amount, rule = piece.work.client_only_colour, _recipe(piece, "client_only_colour")
        what = "rest of a bag for this client alone"
        yield Entry(f"piece {dearest}", what, amount, "goods", (rule,), ("client_only_colour",))


def _visit(at: Scenario, book: PriceBook, hours: dict[str, Decimal], helper_hours: Decimal) -> Iterator[Entry]:
    """The part that all pieces of the job share."""
    visit, wages = book.prices.visit, book.prices.wages
    for task in ("talk", "shop", "load"):
        yield _labour(PLANNING, task, hours[task], book, (_prices("visit", f"{task}_hours"),), "pieces")
    yield _mileage(PLANNING, "shopping", visit.shop_miles, book, (_prices("visit", "shop_miles"),), "pieces")
    yield from _trip(DELIVERY, at, book, "miles")
    yield Entry(DELIVERY, "parking", visit.parking, "delivery", (_prices("visit", "parking"),), ("miles",))
    install = (_prices("settings", at.setting, "install"),)
    yield _labour(DELIVERY, "install", hours["install"], book, install, "size", "setting")
    helper = helper_hours * wages.helper_per_hour * (ONE + wages.helper_payroll)
    rules = (_prices("crew"), _prices("wages", "helper_per_hour"))
    yield Entry(DELIVERY, "helper", helper, "labour", rules, ("crew", "size"), False, helper_hours, "h")
    if at.strike:
        yield _labour(STRIKE, "take-down", hours["strike"], book, (_prices("strike_hours"),), "strike")
        yield from _trip(STRIKE, at, book, "strike", "miles")


def _trip(line: str, at: Scenario, book: PriceBook, *facts: str) -> Iterator[Entry]:
    """A visit is a round trip: the driver's hours and the vehicle's miles."""
    yield _labour(line, "drive", book.prices.travel.hours(at.miles) * TWO, book, (_prices("travel", "speed"),), *facts)
    yield _mileage(line, "round trip", at.miles * TWO, book, (), *facts)


def _mileage(line: str, what: str, miles: Decimal, book: PriceBook, rules: tuple[Rule, ...], *facts: str) -> Entry:
    kind = STRIKE if line == STRIKE else "delivery"
    amount = miles * book.prices.travel.per_mile
    return Entry(line, what, amount, kind, (*rules, PER_MILE), facts, False, miles, "miles")


def _waste(piece: JobPiece, setting: Setting) -> Decimal:
    return Decimal(0) if piece.work.counted else setting.waste


def _setting(at: Scenario, book: PriceBook) -> Setting:
    setting: Setting = getattr(book.prices.settings, at.setting)
    return setting


WAGE = _prices("wages", "owner_per_hour")
PER_MILE = _prices("travel", "per_mile")
