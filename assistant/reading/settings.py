"""What the studio's rule files decide about reading, beside the words."""

from dataclasses import dataclass, field

from assistant.reading.holidays import HolidayCalendar


@dataclass(frozen=True)
class RoleWeights:
    """The file rules/date_roles.yaml: how strongly each role's words speak, and how a cue fades with distance."""

    __pydantic_config__ = {"extra": "forbid"}  # noqa: RUF012

    weights: dict[str, float]
    prior: float = 0.4


@dataclass(frozen=True)
class ReadingSettings:
    """Holidays and the weights of words near a day."""

    holidays: HolidayCalendar = field(default_factory=lambda: HolidayCalendar(()))
    roles: RoleWeights = field(default_factory=lambda: RoleWeights({}))
