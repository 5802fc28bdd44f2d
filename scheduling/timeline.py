"""Quarter-hours of local wall clock: the engine's one unit of time."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta

import numpy as np
from numpy.typing import NDArray

PER_HOUR = 4
PER_DAY = 96
PER_WEEK = 672
WEEKDAYS = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
TINY = 1e-6
QUARTER = timedelta(minutes=15)


@dataclass(frozen=True, slots=True)
class Timeline:
    """Quarter-hours counted from midnight of `origin`, a Monday.

    Parameters
    ----------
    origin : date
        A Monday; quarter 0 is its midnight.
    days : int
        Days written out, a multiple of seven.
    """

    origin: date
    days: int
    midnight: datetime = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        midnight = datetime.combine(self.origin, datetime.min.time())
        object.__setattr__(self, "midnight", midnight)

    @classmethod
    def around(cls, first: date, last: date) -> Timeline:
        """Return the timeline of whole weeks that holds both days."""
        origin = first - timedelta(days=first.weekday())
        weeks = (last - origin).days // 7 + 1
        return cls(origin, weeks * 7)

    @property
    def end(self) -> int:
        """Return the quarter at which the written tables stop."""
        return self.days * PER_DAY

    def quarter(self, moment: datetime | date) -> float:
        """Return the quarter of a moment (a bare date is its midnight)."""
        if not isinstance(moment, datetime):
            return float((moment - self.origin).days * PER_DAY)
        return (moment - self.midnight) / QUARTER

    def moment(self, quarter: float) -> datetime:
        """Return the wall-clock moment of a quarter, to the whole minute."""
        minutes = math.floor(quarter * 15 + 0.5 + TINY)
        return self.midnight + timedelta(minutes=minutes)

    def texts(self, quarters: NDArray[np.float64]) -> NDArray[np.str_]:
        """Return `moment` of many quarters, written as YYYY-MM-DDTHH:MM."""
        minutes = np.floor(quarters * 15 + 0.5 + TINY).astype("timedelta64[m]")
        return np.datetime_as_string(np.datetime64(self.midnight, "m") + minutes)

    def day(self, quarter: float) -> int:
        """Return the day number a quarter falls in (a midnight opens its day)."""
        return math.floor(quarter / PER_DAY + TINY / PER_DAY)
