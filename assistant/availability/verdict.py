"""Can we do it on that day: the verdict, its reason in one sentence, and the nearest days that are open."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, time, timedelta
from typing import Any, Literal

from assistant.availability.bookings import Booking
from assistant.availability.diary import Diary, diary_of, working_day
from assistant.availability.load import Room, event_minutes_free, leaves, room_of
from assistant.availability.needs import Needs
from assistant.availability.rules import CalendarRules
from assistant.availability.slots import Slot, is_free, slots
from assistant.availability.words import hours, long_day

Word = Literal["open", "tight", "full", "closed", "too_soon", "past"]


@dataclass(frozen=True)
class Verdict:
    """The answer for one day. ``crew_hours_free`` are the event day's hours nobody has taken yet, before this job."""

    verdict: Word
    why: str
    crew_hours_free: float
    alternates: tuple[date, ...] = ()

    def to_json(self) -> dict[str, Any]:
        """Return the shape `assistant dates` prints."""
        return {
            "verdict": self.verdict,
            "why": self.why,
            "crew_hours_free": self.crew_hours_free,
            "alternates": [day.isoformat() for day in self.alternates],
        }


@dataclass(frozen=True)
class _Job:
    """The job being looked at, and all that is needed to look at it on any day."""

    start: time | None
    needs: Needs
    zip: str
    diary: Diary
    rules: CalendarRules
    today: date
    usual: bool


def judge(
    day: date,
    *,
    start: time | None = None,
    needs: Needs | None = None,
    bookings: Iterable[Booking] = (),
    rules: CalendarRules,
    today: date,
    zip_code: str = "",
) -> Verdict:
    """Return whether a job of ``needs`` (the default job's if None) fits on ``day`` of the studio.

    ``start`` is when the guests arrive, studio time; ``zip_code`` is the job's place, for the way between jobs.
    Further bookings never make a day freer.
    """
    wanted = rules.file.default_job.needs if needs is None else needs
    job = _Job(start, wanted, zip_code, diary_of(bookings, rules, today), rules, today, needs is None)
    word, why = _judge_day(day, job)
    free = 0 if word in ("past", "closed") else event_minutes_free(day, job.diary, rules)
    others = () if word == "open" else tuple(_alternates(day, job))
    return Verdict(word, why, round(free / 60, 2), others)


def _judge_day(day: date, job: _Job) -> tuple[Word, str]:
    return _by_date(day, job) or _by_hours(day, job) or _by_slots(day, job)


def _by_date(day: date, job: _Job) -> tuple[Word, str] | None:
    """What the calendar alone decides, whoever else is booked."""
    ahead, file = (day - job.today).days, job.rules.file
    if ahead < 0:
        return "past", f"{long_day(day)} is past: today is {long_day(job.today)}."
    if ahead < file.lead_days:
        days = "today" if ahead == 0 else "tomorrow" if ahead == 1 else f"in {ahead} days"
        return "too_soon", f"{long_day(day)} is {days}; the studio needs {file.lead_days} days at least."
    if ahead > file.horizon_days:
        return "closed", f"{long_day(day)} is {ahead} days away; the calendar is open for {file.horizon_days} days."
    why = job.rules.closed_why(day) or _private_why(day, job)
    return ("closed", f"{long_day(day)}: {why}.") if why else None


def _private_why(day: date, job: _Job) -> str:
    """A block that takes the whole working day closes it, as a closed day in the rules does."""
    opens, closes = working_day(day, job.rules)
    whole = any(block.start <= opens and closes <= block.end for block in job.diary.private_blocks)
    return "the studio has blocked the day" if whole else ""


def _by_hours(day: date, job: _Job) -> tuple[Word, str] | None:
    """Full when the jobs, the event day's hours or the building hours run out; the fullest of them decides."""
    jobs, file = job.diary.jobs[day], job.rules.file
    if jobs >= file.jobs_a_day:
        return "full", f"{long_day(day)} holds {jobs} jobs already; the studio takes {file.jobs_a_day} a day."
    room = room_of(day, job.diary, job.rules)
    left_event, left_build = leaves(room, job.needs)
    if min(left_event, left_build) >= 0:
        return None
    short = "the event day is" if left_event <= left_build else "building hours are"
    return "full", _figures(day, job, room, f", so {short} the first to run out")


def _by_slots(day: date, job: _Job) -> tuple[Word, str]:
    """Where the set-up could stand in the day, and how much air is left."""
    room = room_of(day, job.diary, job.rules)
    times = slots(day, job.start, job.needs, job.rules)

    def fits(some: list[Slot], *, with_buffer: bool) -> bool:
        return any(is_free(slot, job.diary, job.rules, job.zip, with_buffer=with_buffer) for slot in some)

    if not fits(times, with_buffer=False):
        return "full", _figures(day, job, room, f", but no time is left to set up {_before(job)} between other jobs")
    usual = times if job.start is None else times[:1]
    if not fits(usual, with_buffer=True):
        return "tight", _figures(day, job, room, ", and the set-up must be early or close to another job")
    margin = job.rules.file.tight_below_hours
    left_event, left_build = leaves(room, job.needs)
    if left_event < margin.event_day * 60 or left_build < margin.build_day * 60:
        return "tight", _figures(day, job, room, ", and little is left after it")
    return "open", _figures(day, job, room)


def _figures(day: date, job: _Job, room: Room, rest: str = "") -> str:
    held = job.diary.holds[day]
    this = "a usual job" if job.usual else "this job"
    holds = f" ({held} of its jobs only held)" if held else ""
    return (
        f"{long_day(day)}{holds} has {hours(room.event)} of {hours(job.rules.event_minutes)} crew hours free "
        f"and {hours(room.build)} of {hours(job.rules.build_minutes)} for building on {long_day(room.build_day)}; "
        f"{this} takes {hours(job.needs.event_day)} and {hours(job.needs.build)}{rest}."
    )


def _before(job: _Job) -> str:
    return f"before {job.start:%H:%M}" if job.start else "in the day"


def _alternates(day: date, job: _Job) -> list[date]:
    """The nearest days that are open for this very job, the later of two equally near ones first."""
    rules = job.rules.file.alternates
    near = (day + timedelta(days=sign * n) for n in range(1, rules.within_days + 1) for sign in (1, -1))
    found: list[date] = []
    for other in near:
        if len(found) == rules.most:
            break
        if _judge_day(other, job)[0] == "open":
            found.append(other)
    return found
