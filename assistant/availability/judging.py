"""One job on one day: by the calendar, by what is scarce, by the hours of the place, and by the time of day."""

from dataclasses import dataclass
from datetime import date
from typing import Literal

from assistant.availability.ceilings import Ceiling, ceilings, scarcest
from assistant.availability.diary import working_day
from assistant.availability.job import Job
from assistant.availability.load import Room, leaves, room_of
from assistant.availability.slots import Slot, is_free, slots
from assistant.availability.windows import take_down_concern, window_concern
from assistant.availability.words import hours, long_day

Word = Literal["open", "tight", "full", "closed", "too_soon", "past"]
POSSIBLE = ("open", "tight")


@dataclass(frozen=True)
class Finding:
    """The word for one day and why; what is scarcest, where the set-up would stand, and what is free."""

    word: Word
    why: str
    scarcest: Ceiling | None = None
    slot: Slot | None = None
    room: Room | None = None

    @property
    def possible(self) -> bool:
        """Whether the job can be done."""
        return self.word in POSSIBLE


def judge_day(day: date, job: Job) -> Finding:
    """Return whether the job can be done on ``day``."""
    return _by_date(day, job) or _by_room(day, job)


def _by_date(day: date, job: Job) -> Finding | None:
    """What the calendar alone decides, whoever else is booked."""
    ahead, file = (day - job.today).days, job.rules.file
    if ahead < 0:
        return Finding("past", f"{long_day(day)} is past: today is {long_day(job.today)}.")
    if ahead < file.lead_days:
        days = "today" if ahead == 0 else "tomorrow" if ahead == 1 else f"in {ahead} days"
        return Finding("too_soon", f"{long_day(day)} is {days}; the studio needs {file.lead_days} days at least.")
    if ahead > file.horizon_days:
        why = f"{long_day(day)} is {ahead} days away; the calendar is open for {file.horizon_days} days."
        return Finding("closed", why)
    why = job.rules.closed_why(day) or _private_why(day, job)
    return Finding("closed", f"{long_day(day)}: {why}.") if why else None


def _private_why(day: date, job: Job) -> str:
    """A block that takes the whole working day closes it, as a closed day in the rules does."""
    opens, closes = working_day(day, job.rules)
    near = job.diary.private_blocks.near(opens, closes)
    whole = any(block.start <= opens and closes <= block.end for block in near)
    return "the studio has blocked the day" if whole else ""


def _by_room(day: date, job: Job) -> Finding:
    """Full when anything runs out, and the scarcest is named; else by the time of day."""
    room = room_of(day, job.diary, job.rules, job.today)
    all_of_them = ceilings(day, job, room)
    short = [ceiling for ceiling in all_of_them if not ceiling.holds]
    if short:
        named = scarcest(short)
        return Finding("full", _why_short(day, job, room, named), named)
    return _by_slots(day, job, room, scarcest(all_of_them))


def _why_short(day: date, job: Job, room: Room, named: Ceiling) -> str:
    if named.name == "jobs":
        taken = named.have - named.free
        return f"{long_day(day)} holds {taken} jobs already; the studio takes {named.have} a day."
    if named.in_hours:
        first = "the event day is" if named.name == "event_hours" else "building hours are"
        return _figures(day, job, room, f", so {first} the first to run out")
    figures = f"{named.free} of {named.have} {named.label} free; {_this(job)} takes {named.needs}"
    return f"{long_day(day)}{_held(day, job)} has {figures}."


def _by_slots(day: date, job: Job, room: Room, scarce: Ceiling) -> Finding:
    """Where the set-up could stand in the day, and how much air is left."""
    window = window_concern(day, job)
    if window and window.broken:
        return Finding("full", f"{long_day(day)}: {window.why}.", window.broken)
    slot, near_another = _best_slot(day, job)
    if slot is None:
        rest = f", but no time is left to set up {_before(job)} between other jobs"
        return Finding("full", _figures(day, job, room, rest), scarce)
    word, rest = _how_tight(day, job, room, slot, near_another)
    return Finding(word, _figures(day, job, room, rest), scarce, slot, room)


def _how_tight(day: date, job: Job, room: Room, slot: Slot, near_another: bool) -> tuple[Word, str]:
    concern = window_concern(day, job) or take_down_concern(day, slot, job)
    left_event, left_build = leaves(room, job.needs)
    margin = job.rules.file.tight_below_hours
    if near_another:
        return "tight", ", and the set-up must be early or close to another job"
    if concern:
        return "tight", f", and {concern.why}"
    if left_event < margin.event_day * 60 or left_build < margin.build_day * 60:
        return "tight", ", and little is left after it"
    if min(leaves(room, job.planned)) < 0:
        return "tight", ", and it fits only if nothing takes longer than likely"
    return "open", ""


def _best_slot(day: date, job: Job) -> tuple[Slot | None, bool]:
    """Return where the set-up stands best, and whether that is early or close to another job.

    Best is the usual time with a full way to every other job, then any time with one, then with the bare drive.
    """
    times = slots(day, job)
    for with_buffer in (True, False):
        for slot in times:
            if is_free(slot, job.diary, job.rules, job.zip, with_buffer=with_buffer):
                usual = with_buffer and (slot == times[0] or job.start is None)
                return slot, not usual
    return None, False


def _figures(day: date, job: Job, room: Room, rest: str = "") -> str:
    return (
        f"{long_day(day)}{_held(day, job)} has {hours(room.event)} of {hours(job.rules.event_minutes)} crew hours free "
        f"and {hours(room.build)} of {hours(job.rules.build_minutes)} for building on {long_day(room.build_day)}; "
        f"{_this(job)} takes {hours(job.needs.event_day)} and {hours(job.needs.build)}{rest}."
    )


def _held(day: date, job: Job) -> str:
    held = job.diary.holds[day]
    return f" ({held} of its jobs only held)" if held else ""


def _this(job: Job) -> str:
    return "a usual job" if job.usual else "this job"


def _before(job: Job) -> str:
    return f"before {job.start:%H:%M}" if job.start else "in the day"
