"""What a job takes: minutes of building before, of crew on the event day, on site, and of the way there."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from math import ceil

Hours = int | float | Decimal | Fraction


def minutes(hours: Hours) -> int:
    """Return whole minutes, rounded up; 2.75 h are 165 min however they are written."""
    return ceil(_exact(hours) * 60)


@dataclass(frozen=True)
class Needs:
    """Crew minutes of one job. ``event_day`` holds loading, both ways of travel, the set-up and the take-down.

    ``strike`` is the take-down alone; ``takes`` counts what the job needs of each resource in calendar.yaml.
    """

    build: int
    event_day: int
    travel: int
    on_site: int
    strike: int = 0
    takes: Mapping[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if min(self.build, self.event_day, self.travel, self.on_site, self.strike, *self.takes.values()) < 0:
            raise ValueError(f"a job cannot take less than no time ({self}): give 0 or more hours")

    @classmethod
    def of(
        cls,
        *,
        build: Hours,
        event_day: Hours,
        travel: Hours,
        on_site: Hours | None = None,
        strike: Hours = 0,
        takes: Mapping[str, int] | None = None,
    ) -> "Needs":
        """Return the needs of a job given in hours; time on site is what is left of the event day if not given."""
        there = event_day if on_site is None else on_site  # on_site not given: all but the two ways
        site = minutes(there) - (0 if on_site is not None else 2 * minutes(travel))
        return cls(minutes(build), minutes(event_day), minutes(travel), max(0, site), minutes(strike), takes or {})


def widened(needs: Needs, factor: Hours) -> Needs:
    """Return the needs with all working hours times ``factor``, rounded up; ways and things stay as they are."""

    def wider(some: int) -> int:
        return ceil(some * _exact(factor))

    return replace(
        needs,
        build=wider(needs.build),
        event_day=wider(needs.event_day),
        on_site=wider(needs.on_site),
        strike=wider(needs.strike),
    )


def needs_of_hours(
    hours: Mapping[str, Hours],
    *,
    buffer: Hours = Fraction(1, 4),
    helper: Hours = 0,
    takes: Mapping[str, int] | None = None,
) -> Needs:
    """Return the needs of a priced job from its hours by task (build, load, drive, install, strike).

    A take-down is a second round trip: half of ``drive`` belongs to it. Talk and shopping fall on other days.
    ``helper`` are further persons' hours on the event day.
    """

    def task(name: str) -> Fraction:
        return _exact(hours.get(name, 0))

    ways = 4 if task("strike") else 2
    on_the_day = task("load") + task("drive") + task("install") + task("strike") + _exact(helper)
    extra = _exact(buffer) if on_the_day else Fraction(0)
    return Needs.of(
        build=task("build"),
        event_day=on_the_day + extra,
        travel=task("drive") / ways,
        on_site=task("install"),
        strike=task("strike"),
        takes=takes,
    )


def _exact(hours: Hours) -> Fraction:
    return Fraction(str(hours) if isinstance(hours, float) else hours)
