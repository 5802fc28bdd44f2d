"""Clock arithmetic for compiled loops; each function mirrors one of `many_moments`.

`worked` and `days_worked` begin alike on purpose: one function for it, handing back a
tuple, made all samples take three quarters longer.
"""

from __future__ import annotations

import math

from scheduling.compiled import inlined
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.timeline import PER_DAY, PER_WEEK, TINY


@inlined
def worked(clocks: ClockArrays, c: int, moment: float) -> float:
    """Return the working quarters of clock `c` before a moment."""
    weeks, quarter, base = 0.0, int(moment), 0
    if moment >= clocks.end:
        beyond = moment - clocks.end
        weeks = math.floor(beyond / PER_WEEK)
        moment = beyond - weeks * PER_WEEK
        quarter, base = int(moment), clocks.end // PER_DAY
    number = quarter // PER_DAY
    inside = quarter - number * PER_DAY
    day = clocks.days[c, base + number]
    low = clocks.before[day.pattern, inside]
    part = (moment - quarter) * (clocks.before[day.pattern, inside + 1] - low)
    return float(day.start + weeks * clocks.clock[c].week_total + low + part)


@inlined
def reach(clocks: ClockArrays, c: int, amount: float) -> float:
    """Return when an amount of work counted from the beginning is done."""
    clock = clocks.clock[c]
    k = max(math.ceil(amount - TINY) - 1, 0)
    rest, weeks = k, 0
    if k >= clock.total:
        if clock.week_total == 0:  # never open again
            return clocks.end + amount
        weeks = (k - clock.total) // clock.week_total
        rest = k - weeks * clock.week_total
    return float((amount - k) + (weeks * PER_WEEK + clocks.at[clock.at_first + rest]))


@inlined
def add(clocks: ClockArrays, c: int, moment: float, quarters: float) -> float:
    """Return when `quarters` of work begun at `moment` are done."""
    if clocks.clock[c].always:
        return moment + quarters
    if quarters <= TINY:
        return moment
    return max(moment, reach(clocks, c, worked(clocks, c, moment) + quarters))


@inlined
def opening(clocks: ClockArrays, c: int, moment: float) -> float:
    """Return the first working moment at or after `moment`."""
    if clocks.clock[c].always:
        return moment
    amount = math.floor(worked(clocks, c, moment) + TINY) + 1.0
    return max(moment, reach(clocks, c, amount) - 1.0)


@inlined
def days_worked(clocks: ClockArrays, c: int, moment: float) -> float:
    """Return the working days before a moment, the current day in part."""
    weeks, quarter, base = 0.0, int(moment), 0
    if moment >= clocks.end:
        beyond = moment - clocks.end
        weeks = math.floor(beyond / PER_WEEK)
        moment = beyond - weeks * PER_WEEK
        quarter, base = int(moment), clocks.end // PER_DAY
    number = quarter // PER_DAY
    inside = quarter - number * PER_DAY
    day = clocks.days[c, base + number]
    hours = max(day.hours, 1)
    low = clocks.before[day.pattern, inside] / hours + day.order
    high = clocks.before[day.pattern, inside + 1] / hours + day.order
    part = (moment - quarter) * (high - low)
    return float(weeks * clocks.clock[c].week_days + part + low)


@inlined
def add_days(clocks: ClockArrays, c: int, moment: float, days: float) -> float:
    """Return when `days` working days begun at `moment` are done."""
    if days <= TINY:
        return moment
    clock = clocks.clock[c]
    amount = days_worked(clocks, c, moment) + days
    k = max(math.ceil(amount - TINY) - 1, 0)
    rest, weeks = k, 0
    if k >= clock.written_days:
        weeks = (k - clock.written_days) // max(clock.week_days, 1)
        rest = k - weeks * clock.week_days
    day = clocks.days[c, clocks.works[clock.works_first + rest]]
    before = day.start + float(weeks * clock.week_total)
    return max(moment, reach(clocks, c, before + (amount - k) * day.hours))


@inlined
def unbroken(clocks: ClockArrays, c: int, ready: float, length: float) -> float:
    """Return the first start whose work meets no closed day, where there is one."""
    first = opening(clocks, c, ready)
    start, last = first, clocks.end // PER_DAY
    for _ in range(60):
        finish = add(clocks, c, start, length)
        began = clocks.days[c, min(int(start // PER_DAY), last)].run
        if began == clocks.days[c, min(int((finish - TINY) // PER_DAY), last)].run:
            return start
        start = opening(clocks, c, (start // PER_DAY + 1.0) * PER_DAY)
    return first
