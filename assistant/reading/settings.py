"""What the studio's rule files decide about reading, beside the words."""

from dataclasses import dataclass, field

from assistant.reading.date_roles import RoleWeights
from assistant.reading.holidays import HolidayCalendar


@dataclass(frozen=True)
class ReadingSettings:
    """Holidays and the weights of words near a day."""

    holidays: HolidayCalendar = field(default_factory=lambda: HolidayCalendar(()))
    roles: RoleWeights = field(default_factory=lambda: RoleWeights({}))
