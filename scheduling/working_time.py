"""When work can happen: a calendar turned into arithmetic, one moment at a time.

A `Clock` knows how much work fits before any moment and when a given amount of
work is done. Past the written timeline the plain working week repeats, so no date
is ever out of reach. `many_moments` does the same for arrays.
"""

from __future__ import annotations

import math
from functools import cached_property

from scheduling.clock_tables import ClockTables
from scheduling.timeline import PER_DAY, PER_WEEK, TINY


class Clock(ClockTables):
    """Amounts of work are quarters (`add`, `back`) or working days (`add_days` ...).

    A working day's hours share the day evenly, so half a day is half of that day's
    own hours. Every method is O(1) by table.
    """

    @cached_property
    def _cum_view(self) -> memoryview:
        return memoryview(self.cum.data)

    @cached_property
    def _at_view(self) -> memoryview:
        return memoryview(self.at.data)

    def worked(self, moment: float) -> float:
        """Return the quarters of work before a moment."""
        if moment <= 0:
            return min(moment, 0.0)
        if moment >= self.end:
            weeks, rest = divmod(moment - self.end, PER_WEEK)
            i = int(rest)
            part = rest - i if i < PER_WEEK and self.week[i] else 0.0
            return float(
                self.cum[-1] + weeks * self.week_cum[-1] + self.week_cum[i] + part
            )
        i = int(moment)
        before = self._cum_view[i]
        return before + (moment - i) * (self._cum_view[i + 1] - before)

    def _place(self, k: int) -> float:
        """Return where the k-th working quarter (from 0) begins."""
        if k < len(self._at_view):
            return float(self._at_view[k])
        weeks, rest = divmod(k - len(self.at), len(self.week_at))
        return float(self.end + weeks * PER_WEEK + self.week_at[rest])

    def add(self, moment: float, quarters: float) -> float:
        """Return when `quarters` of work begun at `moment` are done."""
        if quarters <= TINY:
            return moment
        amount = self.worked(moment) + quarters
        k = math.ceil(amount - TINY) - 1
        return max(moment, self._place(max(k, 0)) + (amount - k))

    def back(self, moment: float, quarters: float) -> float:
        """Return the latest start whose `quarters` of work are done by `moment`."""
        amount = self.worked(moment) - quarters
        if amount < -TINY:
            return amount + min(0.0, moment)
        k = math.floor(amount + TINY)
        return self._place(k) + max(0.0, amount - k)

    def opening(self, moment: float) -> float:
        """Return the first working moment at or after `moment`."""
        return max(moment, self.back(moment, 0.0))

    def days_worked(self, moment: float) -> float:
        """Return working days before a moment, the current day in part."""
        weeks, inside = self._fold(moment)
        day = int(inside // PER_DAY)
        hours = self.day_hours[day]
        part = 0.0
        if hours:
            part = (
                self.worked(moment) - self.worked(moment - inside % PER_DAY)
            ) / hours
        return float(weeks * self.week_days + self.day_order[day] + part)

    def _fold(self, moment: float) -> tuple[float, float]:
        if moment < self.end:
            return 0.0, max(moment, 0.0)
        weeks, rest = divmod(moment - self.end, PER_WEEK)
        return weeks, self.end + rest

    def _day_number(self, k: int) -> tuple[int, int]:
        """Return the k-th working day (from 0) and its working quarters."""
        written = self.written_days
        weeks, at = 0, k
        if k >= written:
            weeks, rest = divmod(k - written, self.week_days)
            at = written + rest
        day = int(self.working_days[at])
        return day + weeks * 7, int(self.day_hours[day])

    def add_days(self, moment: float, days: float) -> float:
        """Return when `days` working days begun at `moment` are done."""
        if days <= TINY:
            return moment
        amount = self.days_worked(moment) + days
        k = math.ceil(amount - TINY) - 1
        day, hours = self._day_number(max(k, 0))
        return max(moment, self.add(float(day * PER_DAY), (amount - k) * hours))

    def back_days(self, moment: float, days: float) -> float:
        """Return the latest start whose `days` working days are done by `moment`."""
        amount = self.days_worked(moment) - days
        if amount < -TINY:
            return amount * PER_DAY
        k = math.floor(amount + TINY)
        day, hours = self._day_number(k)
        return self.back(
            self.add(float(day * PER_DAY), max(0.0, amount - k) * hours), 0.0
        )

    def run(self, moment: float) -> int:
        """Return which run between closed or away days a moment lies in."""
        return int(self.runs[min(int(moment // PER_DAY), len(self.runs) - 1)])
