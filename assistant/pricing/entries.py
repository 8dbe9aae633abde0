"""One cost of a job, and the short ways to write it down with its rules."""

from collections.abc import Iterator
from decimal import Decimal
from typing import NamedTuple

from assistant.pricing.book import PriceBook, RulePath
from assistant.pricing.job import JobPiece, Scenario

Rule = tuple[str, RulePath]  # a rule file and a key in it
PLANNING, DELIVERY, STRIKE = "planning", "delivery", "strike"
TWO = Decimal(2)


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


def price_rule(*path: str | int) -> Rule:
    """Return the rule at a key of prices.yaml."""
    return "prices.yaml", path


def recipe_rule(piece: JobPiece, *path: str | int) -> Rule:
    """Return the rule at a key of a piece's recipe in pieces.yaml."""
    return "pieces.yaml", ("work", piece.piece.work, *path)


def labour(line: str, what: str, hours: Decimal, book: PriceBook, rules: tuple[Rule, ...], *facts: str) -> Entry:
    """Return the owner's hours as a cost; hours on the road and of a take-down are not labour for the tax."""
    amount = hours * book.prices.wages.owner_per_hour
    kind = STRIKE if line == STRIKE else DELIVERY if what == "drive" else "labour"
    return Entry(line, what, amount, kind, (*rules, WAGE), facts, True, hours, "h")


def trip(line: str, at: Scenario, book: PriceBook, *facts: str) -> Iterator[Entry]:
    """A visit is a round trip: the driver's hours and the vehicle's miles."""
    hours = book.prices.travel.hours(at.miles) * TWO
    yield labour(line, "drive", hours, book, (price_rule("travel", "speed"),), *facts)
    yield mileage(line, "round trip", at.miles * TWO, book, (), *facts)


def mileage(line: str, what: str, miles: Decimal, book: PriceBook, rules: tuple[Rule, ...], *facts: str) -> Entry:
    """Return the vehicle's miles as a cost; the driver's hours are apart."""
    kind = STRIKE if line == STRIKE else "delivery"
    amount = miles * book.prices.travel.per_mile
    return Entry(line, what, amount, kind, (*rules, PER_MILE), facts, False, miles, "miles")


WAGE = price_rule("wages", "owner_per_hour")
PER_MILE = price_rule("travel", "per_mile")
