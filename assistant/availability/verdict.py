"""Can we do it on that day: the verdict, its reason in one sentence, and what else could be offered."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, time
from itertools import islice
from typing import Any

from assistant.availability.bookings import Booking
from assistant.availability.ceilings import Ceiling
from assistant.availability.diary import diary_of
from assistant.availability.job import Job, Piece, Smaller
from assistant.availability.judging import Finding, Word, judge_day
from assistant.availability.load import event_minutes_free
from assistant.availability.needs import Needs
from assistant.availability.options import Option, open_days, options
from assistant.availability.rules import CalendarRules


@dataclass(frozen=True)
class Verdict:
    """The answer for one day. ``crew_hours_free`` are the event day's hours nobody has taken yet, before this job.

    ``alternates`` are other days open for the same job; ``options`` are the ways to offer, in order, at most three.
    """

    verdict: Word
    why: str
    crew_hours_free: float
    alternates: tuple[date, ...] = ()
    options: tuple[Option, ...] = ()
    scarcest: Ceiling | None = None

    def to_json(self) -> dict[str, Any]:
        """Return the shape `assistant dates` prints."""
        return {
            "verdict": self.verdict,
            "why": self.why,
            "crew_hours_free": self.crew_hours_free,
            "alternates": [day.isoformat() for day in self.alternates],
            "options": [option.to_json() for option in self.options],
            "scarcest": self.scarcest.to_json() if self.scarcest else None,
        }


def judge(
    day: date,
    *,
    start: time | None = None,
    needs: Needs | None = None,
    bookings: Iterable[Booking] = (),
    rules: CalendarRules,
    today: date,
    zip_code: str = "",
    access_from: time | None = None,
    occasion: str = "",
    setting: str = "",
    pieces: Sequence[Piece] = (),
    smaller: Smaller | None = None,
) -> Verdict:
    """Return whether a job of ``needs`` (the default job's if None) fits on ``day`` of the studio.

    ``start`` is when the guests arrive and ``access_from`` when the place can be entered, studio time; ``zip_code`` is
    the job's place, for the way between jobs; ``pieces``, ``setting`` and ``smaller`` serve the options alone.
    Further bookings never make a day freer.
    """
    job = Job(
        needs=rules.file.default_job.needs if needs is None else needs,
        diary=diary_of(bookings, rules, today),
        rules=rules,
        today=today,
        start=start,
        zip=zip_code,
        usual=needs is None,
        access_from=access_from,
        occasion=occasion,
        setting=setting,
        pieces=pieces,
        smaller=smaller,
    )
    return verdict_of(day, job)


def verdict_of(day: date, job: Job) -> Verdict:
    """Return the verdict on a job with its diary made."""
    return verdict_on(judge_day(day, job), day, job)


def verdict_on(found: Finding, day: date, job: Job) -> Verdict:
    """Return a finding with what else could be offered."""
    free = 0 if found.word in ("past", "closed") else event_minutes_free(day, job.diary, job.rules)
    if found.word == "open":
        return Verdict("open", found.why, round(free / 60, 2), scarcest=found.scarcest)
    others = tuple(islice(open_days(day, job), job.rules.file.alternates.most))
    ways = options(day, job, found, others)
    return Verdict(found.word, found.why, round(free / 60, 2), others, ways, found.scarcest)
