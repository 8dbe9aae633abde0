"""Does the set-up fit between the hour the place opens and the guests; does a take-down meet the next set-up."""

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from assistant.availability.ceilings import Ceiling
from assistant.availability.diary import Block
from assistant.availability.job import Job
from assistant.availability.slots import Slot, access_at, guests_at, meets
from assistant.availability.words import hours


@dataclass(frozen=True)
class Concern:
    """What the designer should see; with the ceiling that is broken where the job cannot be done as asked."""

    why: str
    broken: Ceiling | None = None


def window_concern(day: date, job: Job) -> Concern | None:
    """Return what is wrong with the time between access and guests; None where either is not known or all fits.

    Access + unloading + set-up + tidying and photos must end so long before the guests as the rules say.
    """
    access, guests = access_at(day, job), guests_at(day, job)
    if access is None or guests is None:
        return None
    window, before = job.rules.file.window, job.rules.before_guests(job.occasion)
    needed = window.unload_minutes + job.needs.on_site + window.tidy_minutes
    room = (guests - before - access) // timedelta(minutes=1)
    opens = f"the place opens at {job.access_from:%H:%M} and guests arrive at {job.start:%H:%M}"
    if needed > room:
        short = f"{needed - room} min are short to be ready {before // timedelta(minutes=1)} min before them"
        broken = Ceiling("window", "minutes between access and guests", max(0, room), max(0, room), needed)
        return Concern(f"{opens}; unloading, set-up and photos take {needed} min, {short}", broken)
    if guests - access < timedelta(minutes=int(window.flag_below_hours * 60)):
        return Concern(f"{opens}, less than {hours(int(window.flag_below_hours * 60))} hours later")
    return None


def take_down_concern(day: date, slot: Slot, job: Job) -> Concern | None:
    """Return what is wrong with the night: this job's take-down, or another's, too near to a set-up."""
    own = _own_take_down(day, job)
    travel, rest = timedelta(minutes=job.needs.travel), timedelta(minutes=int(job.rules.file.take_down.rest_hours * 60))
    gap = job.rules.file.between_jobs.widest
    if own is not None:
        for block in job.diary.blocks.near(own.start - travel, own.end + 2 * travel + rest):
            if meets((own.start, own.end), block, gap):
                return Concern(f"the take-down at {_clock(own.start, job)} meets another job")
            if own.end <= block.start < own.end + 2 * travel + rest and _next_day(own, block, job):
                return Concern(
                    f"the take-down ends about {_clock(own.end, job)}, the next set-up begins at "
                    f"{_clock(block.start, job)} the morning after"
                )
    for other in job.diary.strikes.near(slot[0] - 2 * travel - rest, slot[1]):
        if meets(slot, other, gap):
            return Concern(f"another job's take-down at {_clock(other.start, job)} meets the set-up")
        begins = Block(*slot)
        if other.end <= begins.start < other.end + 2 * travel + rest and _next_day(other, begins, job):
            return Concern(f"another job's take-down ends about {_clock(other.end, job)} the night before")
    return None


def take_down_at(day: date, job: Job) -> datetime | None:
    """Return when the job's take-down begins, or None when it has none or its start is not known."""
    guests = guests_at(day, job)
    if guests is None or not job.needs.strike:
        return None
    return guests + timedelta(minutes=int(job.rules.file.take_down.event_hours * 60))


def _own_take_down(day: date, job: Job) -> Block | None:
    begins = take_down_at(day, job)
    return None if begins is None else Block(begins, begins + timedelta(minutes=job.needs.strike))


def _next_day(night: Block, morning: Block, job: Job) -> bool:
    """The small hours belong to the day before; a set-up on the same working day is no matter of rest."""
    evening = night.start.astimezone(job.rules.zone)
    day = evening.date() - timedelta(days=evening.time() < job.rules.file.working_from)
    return morning.start.astimezone(job.rules.zone).date() > day


def _clock(moment: datetime, job: Job) -> str:
    return f"{moment.astimezone(job.rules.zone):%H:%M}"
