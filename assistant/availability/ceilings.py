"""Everything a day has only so much of, with what is free of it and what a job needs; the scarcest decides."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import Any

from assistant.availability.job import Job
from assistant.availability.load import Room


@dataclass(frozen=True)
class Ceiling:
    """One resource of one day: how much there is, how much is free, and how much the job needs; hours in minutes."""

    name: str
    label: str
    have: int
    free: int
    needs: int
    in_hours: bool = False

    @property
    def holds(self) -> bool:
        """Whether the job fits under it."""
        return self.needs <= self.free

    @property
    def share_left(self) -> Fraction:
        """What would be left of it once the job is in, as a share of all there is; below 0 if the job won't fit."""
        return Fraction(self.free - self.needs, max(1, self.have))

    def to_json(self) -> dict[str, Any]:
        """Return the figures, hours as hours."""

        def figure(amount: int) -> float | int:
            return round(amount / 60, 2) if self.in_hours else amount

        return {
            "resource": self.name,
            "label": self.label,
            "have": figure(self.have),
            "free": figure(self.free),
            "needs": figure(self.needs),
        }


def ceilings(day: date, job: Job, room: Room) -> list[Ceiling]:
    """Return every ceiling that the job comes under on ``day``, the number of jobs first."""
    file, needs = job.rules.file, job.needs
    jobs = file.jobs_a_day
    return [
        Ceiling("jobs", "jobs a day", jobs, jobs - job.diary.jobs[day], 1),
        Ceiling("event_hours", "crew hours", job.rules.event_minutes, room.event, needs.event_day, in_hours=True),
        Ceiling("build_hours", "building hours", job.rules.build_minutes, room.build, needs.build, in_hours=True),
        *_things(day, job),
    ]


def scarcest(some: list[Ceiling]) -> Ceiling:
    """Return the ceiling that leaves the smallest share; of equal ones the first."""
    return min(some, key=lambda ceiling: ceiling.share_left)


def _things(day: date, job: Job) -> Iterator[Ceiling]:
    for name, needed in job.needs.takes.items():
        resource = job.rules.file.resources.get(name)
        if resource is None or not needed:
            continue
        away = [day + timedelta(days=after) for after in range(resource.away_days)]
        shared = resource.counts == "day"
        taken = max(job.diary.taken[name, other] for other in away) if shared else 0
        yield Ceiling(name, resource.label, resource.have, max(0, resource.have - taken), needed)
