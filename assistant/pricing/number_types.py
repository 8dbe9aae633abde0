"""Numbers and days a rule file may hold, with the range that is checked when it is loaded."""

from datetime import date
from decimal import Decimal
from typing import Annotated

from annotated_types import Ge, Gt, Le, Lt

STRICT = {"extra": "forbid"}

NotNegative = Annotated[Decimal, Ge(0)]
Positive = Annotated[Decimal, Gt(0)]
Share = Annotated[Decimal, Ge(0), Lt(1)]
Factor = Annotated[Decimal, Ge(1), Le(10)]
Day = date
