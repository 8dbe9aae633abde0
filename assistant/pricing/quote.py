"""A priced job in the shape others rely on: integer cents, lines that add up, and the reasons behind them."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property
from typing import Any

from assistant.pricing.apportionment import apportion, apportion_below
from assistant.pricing.book import PriceBook
from assistant.pricing.cautions import cautions, notes
from assistant.pricing.engine import PEAK, RUSH, Case, Priced
from assistant.pricing.entries import DELIVERY, PLANNING, STRIKE
from assistant.pricing.fit import versions_that_fit
from assistant.pricing.gas_rules import GasNeed, gas_need
from assistant.pricing.job import JobPiece
from assistant.pricing.measures import short
from assistant.pricing.money import cents, left_for_work
from assistant.pricing.supplies import Pack, balloons, packs
from assistant.pricing.taxes import Taxes, taxes
from assistant.pricing.terms import Terms, shown_of, terms_of

LABELS = {
    PLANNING: "Design, shopping and preparation",
    DELIVERY: "Delivery and installation",
    STRIKE: "Take-down and collection",
    PEAK: "Date price",
    RUSH: "Short notice",
}


@dataclass(frozen=True)
class Line:
    """One line of the quote in cents, with the rules (file:line) and facts that made it."""

    label: str
    low: int
    likely: int
    high: int
    rules: tuple[str, ...]
    facts: tuple[str, ...]

    def to_json(self) -> dict[str, Any]:
        """Return the contract's shape."""
        return {"label": self.label, "low": self.low, "likely": self.likely, "high": self.high,
                "rules": list(self.rules), "facts": list(self.facts)}  # fmt: skip


@dataclass(frozen=True)
class Quote:
    """The answer to "what must it cost?"; every figure follows from the facts and the price book."""

    priced: Priced
    book: PriceBook
    facts: Mapping[str, Any] = field(default_factory=dict, repr=False)

    @cached_property
    def shown(self) -> tuple[int, int, int]:
        """Return (low, likely, high) in cents, rounded as a client sees them."""
        return shown_of([case.price for case in self._cases], self.priced.job, self.book)

    @property
    def exact(self) -> tuple[int, int, int]:
        """Return (low, likely, high) in cents before friendly rounding."""
        low, likely, high = (cents(case.price) for case in self._cases)
        return low, likely, high

    @property
    def floor(self) -> int:
        """Return the likely job's price without profit: below it the designer works under wage."""
        return cents(self.priced.floor)

    @property
    def hours(self) -> dict[str, float]:
        """Return the designer's hours by task for the likely job; both trips are in ``drive``.

        A visit to look at the room first is a task of its own, its drive included.
        """
        return {task: _hours(spent) for task, spent in self.priced.likely.costing.hours.items()}

    @property
    def crew(self) -> dict[str, float]:
        """Return how many install the likely job, the hours of the designer and of each helper, and of all together."""
        costing = self.priced.likely.costing
        return {
            "installers": costing.helpers + 1,
            "designer_hours": _hours(costing.own_hours),
            "helper_hours": _hours(costing.helper_hours / costing.helpers) if costing.helpers else 0.0,
            "crew_hours": _hours(costing.own_hours + costing.helper_hours),
        }

    @cached_property
    def balloons(self) -> Mapping[str, Mapping[str, int]]:
        """Return whole balloons of the likely job by nominal size (inches) and colour."""
        return balloons(self.priced.job, self.priced.likely.at, self.book)

    @cached_property
    def packs(self) -> tuple[Pack, ...]:
        """Return what the stock in hand gives of those balloons, and the cheapest bags for the rest."""
        return packs(self.balloons, self.priced.job.stock, self.book)

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        """Return the lines; they add up to the shown low, likely and high exactly, and each line is in order."""
        low, likely, high = (case.lines() for case in self._cases)
        keys = [key for key in self._line_order() if any(case.get(key) for case in (low, likely, high))]
        weights = [[int(case.get(key, Decimal(0)) * 10_000) for key in keys] for case in (low, likely, high)]
        at_most = apportion(self.shown[2], weights[2])
        middle = apportion_below(self.shown[1], weights[1], at_most)
        at_least = apportion_below(self.shown[0], weights[0], middle)
        return tuple(self._line(*row) for row in zip(keys, at_least, middle, at_most, strict=True))

    @property
    def take_home_per_hour(self) -> tuple[int, int, int]:
        """Return cents an hour the designer keeps of the shown likely price, before income tax.

        Low and high are the same job and price when the studio's own hours and balloons run over or under.
        """
        cases = (self.priced.slow, self.priced.likely, self.priced.quick)
        low, likely, high = sorted(self._per_hour(case) for case in cases)
        return low, likely, high

    @property
    def terms(self) -> Terms:
        """Return deposit, balance, the days they are due and how long the quote stands, on the shown likely price."""
        return terms_of(self.shown[1], self.priced.job, self.book.prices)

    @property
    def deposit(self) -> int:
        """Return the deposit on the shown likely price, in cents."""
        return self.terms.deposit

    @cached_property
    def tax(self) -> Taxes | None:
        """Return sales tax on top of the shown prices by the studio's rates; None while all rates are off."""
        return taxes(self._cases, self.shown, self.book.prices.tax)

    @property
    def gas(self) -> GasNeed | None:
        """Return the helium of the likely job, None for a job without."""
        entries = self.priced.likely.costing.entries
        feet = sum((entry.quantity or Decimal(0) for entry in entries if entry.what == "helium"), Decimal(0))
        return gas_need(self.priced.job, self.priced.likely.at, feet, self.book.gas)

    @property
    def single_figure(self) -> bool:
        """Tell whether no price-moving fact is open, so that one figure may be shown instead of a range."""
        return not self.priced.narrowing

    def to_json(self) -> dict[str, Any]:
        """Return the contract's shape; money in integer cents."""
        return {
            "currency": self.book.prices.currency,
            **_three(self.shown),
            "exact": _three(self.exact),
            "floor": self.floor,
            "lines": [line.to_json() for line in self.lines],
            "take_home_per_hour": _three(self.take_home_per_hour),
            "hours": self.hours,
            "crew": self.crew,
            "balloons": {f"{size} in": dict(by_colour) for size, by_colour in self.balloons.items()},
            "packs": [pack.to_json() for pack in self.packs],
            "narrowing": [
                {"fact": row.fact, "width_now": cents(row.width_now), "width_if_known": cents(row.width_if_known)}
                for row in self.priced.narrowing
            ],
            "cautions": cautions(self.priced, self.book),
            "assumed": [assumed.to_json() for assumed in self.priced.job.assumed],
            "for_designer": notes(self.priced, self.book, self.shown),
            "single_figure": self.single_figure,
            "deposit": self.deposit,
            **self.terms.to_json(),
            "tax": None if self.tax is None else _three(self.tax.total),
            "tax_lines": {} if self.tax is None else {kind: _three(row) for kind, row in self.tax.by_kind.items()},
            "price_book": self.book.version,
            **self._sometimes(),
        }

    def _sometimes(self) -> dict[str, Any]:
        """Return the keys that only some jobs have."""
        job = self.priced.job
        found: dict[str, Any] = {}
        if job.discount is not None:
            off = (cents(case.discount) for case in self._cases)
            found["discount"] = {"name": job.discount, **_three(off)}
        if self.gas is not None:
            found["gas"] = self.gas.to_json()
        fit = versions_that_fit(self.facts, self.priced, self.shown, self.book)
        if fit:
            found["fit"] = [version.to_json() for version in fit]
        return found

    @property
    def _cases(self) -> tuple[Case, Case, Case]:
        return self.priced.low, self.priced.likely, self.priced.high

    def _line_order(self) -> list[str]:
        return [*(f"piece {i}" for i in range(len(self.priced.job.pieces))), *LABELS]

    def _line(self, key: str, low: int, likely: int, high: int) -> Line:
        entries = [entry for entry in self.priced.high.costing.entries if entry.line == key]
        rules = [self.book.where(file, *key) for entry in entries for file, key in entry.rules] or self._date_rules(key)
        facts = dict.fromkeys(fact for entry in entries for fact in entry.facts) or {"event_date": None}
        return Line(self._label(key), low, likely, high, tuple(dict.fromkeys(rules)), tuple(facts))

    def _date_rules(self, key: str) -> list[str]:
        date = self.priced.high.at.date
        where, row = ("peaks", date.peak_row) if key == PEAK else ("rush", date.rush_row)
        return [self.book.where("prices.yaml", "dates", where, row)]

    def _label(self, key: str) -> str:
        if key in LABELS:
            return LABELS[key]
        return piece_label(self.priced.job.pieces[int(key.split()[1])])

    def _per_hour(self, case: Case) -> int:
        kept = left_for_work(Decimal(self.shown[1]) / 100, case.sums.paid_out, self.book.prices.shares)
        hours = case.sums.own_hours
        return cents(kept / hours) if hours else 0


def piece_label(piece: JobPiece) -> str:
    """Return a piece's name with its count and size, as it stands on a line."""
    units, count = piece.size.units, piece.count
    feet = f"{short(units.low)} to {short(units.high)}" if units.open else short(units.likely)
    many = f"{count.low} to {count.high} x " if count.open else f"{count.likely} x " if count.likely > 1 else ""
    size = f", {feet} {piece.work.unit}" if piece.work.unit != "piece" else ""
    return f"{many}{piece.piece.label}{size}"


def _three(values: Any) -> dict[str, int]:
    low, likely, high = values
    return {"low": low, "likely": likely, "high": high}


def _hours(value: Decimal) -> float:
    return round(float(value), 4)
