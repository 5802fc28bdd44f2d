"""The lookup tables behind a clock: cumulative work, and where each quarter lies."""

from __future__ import annotations

from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scheduling.timeline import PER_DAY

WORKSHOPS = 2  # whose clocks are kept; those of ten people weigh some 50 MB


class ClockTables:
    """Working time of one calendar, or of several that must all be open.

    Parameters
    ----------
    working : bool array, one entry per quarter of the timeline
    week : bool array of 672 quarters from Monday midnight, used past the end
    blocked : bool array, one entry per day: closed or away though the week has work
    """

    def __init__(
        self,
        working: NDArray[np.bool_],
        week: NDArray[np.bool_],
        blocked: NDArray[np.bool_],
    ) -> None:
        self.working, self.week, self.blocked = working, week, blocked
        self.end = len(working)

    @cached_property
    def cum(self) -> NDArray[np.int32]:
        """Return working quarters before each quarter of the timeline."""
        return _before(self.working)

    @cached_property
    def day_cum(self) -> NDArray[np.float64]:
        """Return working days before each quarter, a day shared by its hours."""
        return self._day_progress(self.working, 0)

    @cached_property
    def week_day_cum(self) -> NDArray[np.float64]:
        """Return working days before each quarter of the plain week."""
        return self._day_progress(self.week, len(self.working) // PER_DAY)

    def _day_progress(
        self, working: NDArray[np.bool_], first: int
    ) -> NDArray[np.float64]:
        days = len(working) // PER_DAY
        hours = self.day_hours[first : first + days]
        done = _before(working)[:-1].reshape(days, PER_DAY)
        part = (done - done[:, :1]) / np.maximum(hours, 1)[:, None]
        order = self.day_order[first : first + days + 1] - self.day_order[first]
        return np.append((part + order[:-1, None]).ravel(), order[-1])

    @cached_property
    def day_starts(self) -> NDArray[np.float64]:
        """Return working quarters before each written day, then each day of a week."""
        weekly = self.cum[-1] + self.week_cum[:-1:PER_DAY].astype(np.float64)
        return np.concatenate([self.cum[:-1:PER_DAY], weekly])

    @cached_property
    def at(self) -> NDArray[np.int32]:
        """Return where each working quarter lies."""
        return np.flatnonzero(self.working).astype(np.int32)

    @cached_property
    def week_cum(self) -> NDArray[np.int32]:
        """Return working quarters before each quarter of the plain week."""
        return _before(self.week)

    @cached_property
    def week_at(self) -> NDArray[np.int32]:
        """Return where each working quarter lies in the plain week."""
        return np.flatnonzero(self.week).astype(np.int32)

    @cached_property
    def day_hours(self) -> NDArray[np.int64]:
        """Working quarters of each written day, then of one plain week."""
        both = np.concatenate([self.working, self.week])
        return np.asarray(both.reshape(-1, PER_DAY).sum(axis=1), dtype=np.int64)

    @cached_property
    def day_kinds(self) -> tuple[NDArray[np.bool_], NDArray[np.intp]]:
        """Return the few days there are, by their quarters, and which each day is."""
        days = np.concatenate([self.working, self.week]).reshape(-1, PER_DAY)
        packed = np.packbits(days, axis=1).view("V12").ravel()
        _, first, kinds = np.unique(packed, return_index=True, return_inverse=True)
        return days[first], kinds

    @cached_property
    def day_order(self) -> NDArray[np.int64]:
        """Working days before each day, written days then one plain week."""
        return np.concatenate([[0], np.cumsum(self.day_hours > 0)])

    @cached_property
    def working_days(self) -> NDArray[np.int64]:
        """Return the day number of each working day."""
        return np.flatnonzero(self.day_hours > 0)

    @cached_property
    def runs(self) -> NDArray[np.int64]:
        """Return for each day how many closed or away days came before its end."""
        return np.concatenate([np.cumsum(self.blocked), [self.blocked.sum()]])

    @cached_property
    def always(self) -> bool:
        """Return whether this clock never stops."""
        return bool(self.working.all() and self.week.all())

    @cached_property
    def ever_open(self) -> bool:
        """Return whether the plain week has any working time at all."""
        return bool(self.week.any())

    @cached_property
    def week_days(self) -> int:
        """Return the working days of one plain week."""
        return int(self.day_order[-1] - self.day_order[-8])

    @cached_property
    def written_days(self) -> int:
        """Return the working days inside the written timeline."""
        return int(self.day_order[-8])


def _before(working: NDArray[np.bool_]) -> NDArray[np.int32]:
    """Return how many working quarters lie before each quarter, and in all."""
    total = np.zeros(len(working) + 1, dtype=np.int32)
    np.cumsum(working, dtype=np.int32, out=total[1:])
    return total
