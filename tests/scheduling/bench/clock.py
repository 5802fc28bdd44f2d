"""Working time in plain Python: open intervals and bisect."""

import math
from bisect import bisect_left, bisect_right
from itertools import accumulate
from typing import Any

import numpy as np

DAY = 96
TINY = 1e-6
WEEKS_ON = 300


class PlainClock:
    """The open intervals of one calendar, and work counted along them."""

    def __init__(self, clock: Any) -> None:
        bits = np.concatenate([clock.working, np.tile(clock.week, WEEKS_ON)])
        edges = np.flatnonzero(np.diff(np.concatenate([[0], bits.astype(int), [0]])))
        self.opens, self.closes = edges[::2].tolist(), edges[1::2].tolist()
        lengths = [b - a for a, b in zip(self.opens, self.closes, strict=True)]
        self.after = list(accumulate(lengths))
        self.hours = bits.reshape(-1, DAY).sum(axis=1).tolist()
        self.order = [0, *accumulate(int(one > 0) for one in self.hours)]
        self.days = [day for day, one in enumerate(self.hours) if one]
        self.runs = clock.runs.tolist()

    def worked(self, moment: float) -> float:
        i = bisect_right(self.opens, moment) - 1
        if i < 0:
            return 0.0
        return self.after[i] - max(0.0, self.closes[i] - moment)

    def reach(self, amount: float) -> float:
        i = bisect_left(self.after, amount - TINY)
        return self.closes[i] - (self.after[i] - amount)

    def add(self, moment: float, quarters: float) -> float:
        if quarters <= TINY:
            return moment
        return max(moment, self.reach(self.worked(moment) + quarters))

    def opening(self, moment: float) -> float:
        return max(moment, self.opens[bisect_right(self.closes, moment)])

    def days_worked(self, moment: float) -> float:
        day = int(moment // DAY)
        part = 0.0
        if self.hours[day]:
            part = (self.worked(moment) - self.worked(day * DAY)) / self.hours[day]
        return self.order[day] + part

    def add_days(self, moment: float, days: float) -> float:
        if days <= TINY:
            return moment
        amount = self.days_worked(moment) + days
        k = max(math.ceil(amount - TINY) - 1, 0)
        day = self.days[k]
        return max(moment, self.add(day * DAY, (amount - k) * self.hours[day]))

    def run(self, moment: float) -> int:
        return self.runs[min(int(moment // DAY), len(self.runs) - 1)]
