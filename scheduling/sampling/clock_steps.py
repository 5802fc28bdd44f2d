"""Clock arithmetic for compiled loops; each function mirrors one of `many_moments`."""

from __future__ import annotations

import math

from scheduling.compiled import compiled
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.timeline import PER_DAY, PER_WEEK, TINY


@compiled
def worked(clocks: ClockArrays, c: int, moment: float) -> float:
    """Return the working quarters of clock `c` before a moment."""
    weeks, quarter, base = 0.0, int(moment), 0
    if moment >= clocks.end:
        beyond = moment - clocks.end
        weeks = math.floor(beyond / PER_WEEK)
        moment = beyond - weeks * PER_WEEK
        quarter, base = int(moment), clocks.end // PER_DAY
    day = quarter // PER_DAY
    inside = quarter - day * PER_DAY
    kind = clocks.pattern[c, base + day]
    low = clocks.before[kind, inside]
    part = (moment - quarter) * (clocks.before[kind, inside + 1] - low)
    return float(
        clocks.start[c, base + day] + weeks * clocks.week_total[c] + low + part
    )


@compiled
def reach(clocks: ClockArrays, c: int, amount: float) -> float:
    """Return when an amount of work counted from the beginning is done."""
    k = max(math.ceil(amount - TINY) - 1, 0)
    rest, weeks = k, 0
    total = clocks.total[c]
    if k >= total:
        if clocks.week_total[c] == 0:  # never open again
            return clocks.end + amount
        weeks = (k - total) // clocks.week_total[c]
        rest = k - weeks * clocks.week_total[c]
    quarter = clocks.at[clocks.at_first[c] + rest]
    return float((amount - k) + (weeks * PER_WEEK + quarter))


@compiled
def add(clocks: ClockArrays, c: int, moment: float, quarters: float) -> float:
    """Return when `quarters` of work begun at `moment` are done."""
    if clocks.always[c]:
        return moment + quarters
    if quarters <= TINY:
        return moment
    return max(moment, reach(clocks, c, worked(clocks, c, moment) + quarters))


@compiled
def opening(clocks: ClockArrays, c: int, moment: float) -> float:
    """Return the first working moment at or after `moment`."""
    if clocks.always[c]:
        return moment
    amount = math.floor(worked(clocks, c, moment) + TINY) + 1.0
    return max(moment, reach(clocks, c, amount) - 1.0)


@compiled
def days_worked(clocks: ClockArrays, c: int, moment: float) -> float:
    """Return the working days before a moment, the current day in part."""
    weeks, base = 0.0, 0
    if moment >= clocks.end:
        beyond = moment - clocks.end
        weeks = math.floor(beyond / PER_WEEK)
        moment = beyond - weeks * PER_WEEK
        base = clocks.end // PER_DAY
    quarter = int(moment)
    day = quarter // PER_DAY
    inside = quarter - day * PER_DAY
    kind = clocks.pattern[c, base + day]
    hours = max(clocks.hours[c, base + day], 1)
    low = clocks.before[kind, inside] / hours + clocks.order[c, base + day]
    high = clocks.before[kind, inside + 1] / hours + clocks.order[c, base + day]
    return float(weeks * clocks.week_days[c] + (moment - quarter) * (high - low) + low)


@compiled
def add_days(clocks: ClockArrays, c: int, moment: float, days: float) -> float:
    """Return when `days` working days begun at `moment` are done."""
    if days <= TINY:
        return moment
    amount = days_worked(clocks, c, moment) + days
    k = max(math.ceil(amount - TINY) - 1, 0)
    rest, weeks = k, 0
    written = clocks.written_days[c]
    if k >= written:
        weeks = (k - written) // max(clocks.week_days[c], 1)
        rest = k - weeks * clocks.week_days[c]
    day = clocks.works[clocks.works_first[c] + rest]
    before = clocks.start[c, day] + float(weeks * clocks.week_total[c])
    part = (amount - k) * clocks.hours[c, day]
    return max(moment, reach(clocks, c, before + part))


@compiled
def unbroken(clocks: ClockArrays, c: int, ready: float, length: float) -> float:
    """Return the first start whose work meets no closed day, where there is one."""
    first = opening(clocks, c, ready)
    start, last = first, clocks.run.shape[1] - 1
    for _ in range(60):
        finish = add(clocks, c, start, length)
        began = clocks.run[c, min(int(start // PER_DAY), last)]
        if began == clocks.run[c, min(int((finish - TINY) // PER_DAY), last)]:
            return start
        start = opening(clocks, c, (start // PER_DAY + 1.0) * PER_DAY)
    return first
