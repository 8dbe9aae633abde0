"""What else can be offered where a day won't do, in the order of the trade: never more than three, each feasible."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from itertools import islice
from typing import Any, Literal

from assistant.availability.job import Job
from assistant.availability.judging import Finding, judge_day
from assistant.availability.needs import Needs
from assistant.availability.planning import largest_ft
from assistant.availability.slots import Slot

Kind = Literal["other_time", "pick_up", "day_before", "other_day", "smaller"]


@dataclass(frozen=True)
class Option:
    """One way that is open: another set-up time, the client fetching it, the day before, another day, or less of it.

    ``day`` is when the crew works or hands out; ``set_up`` is studio time; ``share`` is of every length.
    """

    kind: Kind
    day: date
    why: str
    set_up: tuple[datetime, datetime] | None = None
    share: Decimal | None = None

    def to_json(self) -> dict[str, Any]:
        """Return the shape `assistant dates` prints; times are the studio's own, without offset."""
        out: dict[str, Any] = {"kind": self.kind, "day": self.day.isoformat(), "why": self.why}
        if self.set_up:
            out["set_up"] = [moment.replace(tzinfo=None).isoformat(timespec="minutes") for moment in self.set_up]
        if self.share is not None:
            out["share"] = float(self.share)
        return out


def options(day: date, job: Job, found: Finding, others: Sequence[date]) -> tuple[Option, ...]:
    """Return the first few ways that are feasible for a job that ``found`` is not open for; ``others`` are open."""
    return tuple(islice(_in_order(day, job, found, others), job.rules.file.alternates.most))


def open_days(day: date, job: Job) -> Iterator[date]:
    """Yield the days that are open for this very job, nearest first, the later of two equally near ones first."""
    for after in range(1, job.rules.file.alternates.within_days + 1):
        for other in (day + timedelta(days=after), day - timedelta(days=after)):
            if judge_day(other, job).word == "open":
                yield other


def _in_order(day: date, job: Job, found: Finding, others: Sequence[date]) -> Iterator[Option]:
    if found.word == "full":
        yield from _other_time(day, job)
        yield from _pick_up(day, job)
    if found.word in ("full", "closed"):
        yield from _day_before(day, job)
    for other in others[: job.rules.file.alternates.other_days]:
        yield Option("other_day", other, "open for the same job")
    if found.word == "full":
        yield from _smaller(day, job)


def _other_time(day: date, job: Job) -> Iterator[Option]:
    """The same day, set up earlier than usual; only where nobody said from when the place can be entered."""
    if job.start is None or job.access_from is not None:
        return
    found = judge_day(day, early(job))
    if found.possible and found.slot:
        yield Option("other_time", day, "set up earlier in the day, if the place lets us in", _local(found.slot, job))


def _pick_up(day: date, job: Job) -> Iterator[Option]:
    rules = job.rules.file.pick_up
    if not job.pieces or any(piece.get("kind") not in rules.kinds for piece in job.pieces):
        return
    if any((largest_ft(piece) or 0) > rules.at_most_ft for piece in job.pieces):
        return
    if judge_day(day, fetched(job)).possible:
        yield Option("pick_up", day, "made for the client to fetch, no set-up")


def _day_before(day: date, job: Job) -> Iterator[Option]:
    """Air-filled pieces indoors keep till the next day; what they take along is then away on both days."""
    rules = job.rules.file.day_before
    if job.setting not in rules.settings or any(piece.get("kind") not in rules.kinds for piece in job.pieces):
        return
    before = day - timedelta(days=1)
    found = judge_day(before, day_earlier(job))
    if found.possible and job.pieces and things_hold(day, job):
        why = "set up the day before, if the place lets us in"
        yield Option("day_before", before, why)


def _smaller(day: date, job: Job) -> Iterator[Option]:
    for share in job.rules.file.alternates.smaller_shares:
        needs = job.smaller(share) if job.smaller else None
        if needs is not None and judge_day(day, replace(job, needs=needs)).possible:
            yield Option("smaller", day, f"the same at {share:.0%} of its length", share=share)
            return


def early(job: Job) -> Job:
    """Return the job set up at any hour of the working day."""
    return replace(job, any_hour=True)


def fetched(job: Job) -> Job:
    """Return the job as one the client fetches: built as before, then handed out."""
    minutes = job.rules.file.pick_up.minutes
    takes = {name: count for name, count in job.needs.takes.items() if name != "vehicle"}
    return replace(job, needs=Needs(job.needs.build, minutes, 0, minutes, takes=takes), start=None, access_from=None)


def day_earlier(job: Job) -> Job:
    """Return the job as one that is set up on a day without guests."""
    return replace(job, start=None, access_from=None)


def things_hold(day: date, job: Job) -> bool:
    """Tell whether what is owned is free on ``day`` too, no crew being needed there."""
    for name, needed in job.needs.takes.items():
        resource = job.rules.file.resources.get(name)
        if resource and name != "vehicle" and job.diary.taken[name, day] + needed > resource.have:
            return False
    return True


def _local(slot: Slot, job: Job) -> tuple[datetime, datetime]:
    return slot[0].astimezone(job.rules.zone), slot[1].astimezone(job.rules.zone)
