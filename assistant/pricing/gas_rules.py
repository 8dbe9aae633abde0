"""The shape of rules/gas.yaml, and the gas that a job needs by it."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Annotated, Any

from annotated_types import Ge, Gt, Le, MinLen

from assistant.pricing import gas
from assistant.pricing.job import Job, Scenario
from assistant.pricing.number_types import STRICT, Day, Factor, NotNegative, Positive
from assistant.pricing.recipes import Build


@dataclass(frozen=True)
class Hours:
    """How long something floats, from and to."""

    __pydantic_config__ = STRICT
    low: NotNegative
    high: NotNegative

    def __post_init__(self) -> None:
        if self.low > self.high:
            raise ValueError(f"low {self.low} is more than high {self.high}: sort them")


@dataclass(frozen=True)
class Fill:
    """One balloon by the supplier's chart: gas it takes, net grams it lifts, hours it floats plain and treated."""

    __pydantic_config__ = STRICT
    cubic_ft: Positive
    lift_g: NotNegative
    plain: Hours
    treated: Hours


@dataclass(frozen=True)
class GasRules:
    """All of gas.yaml: the cylinder, where the studio stands, the weight on a bunch, and the chart of fills."""

    __pydantic_config__ = STRICT
    valid_from: Day
    source: str
    cylinder_cubic_ft: Positive
    usable: Annotated[Decimal, Gt(0), Le(1)]
    altitude_ft: Annotated[Decimal, Ge(-1500), Le(20000)]
    temperature_f: Annotated[Decimal, Ge(-40), Le(130)]
    weight_factor: Factor
    fills: Annotated[dict[str, Fill], MinLen(1)]

    def cubic_ft(self, build: Build) -> Decimal:
        """Return the gas of one recipe by the chart."""
        return sum((self.fills[name].cubic_ft * n for name, n in build.floats.items()), Decimal(0))


@dataclass(frozen=True)
class GasNeed:
    """The gas of a job: cubic feet as the chart counts, cylinders, and for each bunch its lift, weight and hours."""

    cubic_ft: float
    cylinders: int
    bunches: tuple[dict[str, Any], ...]

    def to_json(self) -> dict[str, Any]:
        """Return the answer's key."""
        return {"cubic_ft": self.cubic_ft, "cylinders": self.cylinders, "bunches": list(self.bunches)}


def gas_need(job: Job, at: Scenario, cubic_ft: Decimal, rules: GasRules) -> GasNeed | None:
    """Return the gas of a job whose recipes take ``cubic_ft`` with waste; None for a job without helium.

    At height and in heat a fill of the same size takes less of a cylinder, and lifts less.
    """
    if not cubic_ft:
        return None
    thin = gas.thinner(float(rules.temperature_f), float(rules.altitude_ft))
    number = gas.cylinders(float(cubic_ft) * thin, float(rules.cylinder_cubic_ft), float(rules.usable))
    return GasNeed(round(float(cubic_ft), 2), number, tuple(_bunches(job, at, thin, rules)))


def _bunches(job: Job, at: Scenario, thin: float, rules: GasRules) -> Iterator[dict[str, Any]]:
    for piece, units in zip(job.pieces, at.units, strict=True):
        build = piece.work.build(at.density)
        if not build.floats:
            continue
        times = float(units / build.for_units) if build.one_weight else 1.0
        fills = [(rules.fills[name], float(n) * times) for name, n in build.floats.items()]
        lift = sum(float(fill.lift_g) * n for fill, n in fills) * thin
        hours = [fill.treated if build.treated else fill.plain for fill, _ in fills]
        yield {
            "piece": piece.piece.label,
            "lift_g": round(lift, 1),
            "weight_g": round(lift * float(rules.weight_factor), 1),
            "float_hours": [float(min(h.low for h in hours)), float(min(h.high for h in hours))],
        }
