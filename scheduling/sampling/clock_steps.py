"""Clock arithmetic for compiled loops; each function mirrors one of `many_moments`.

There are no branches where one sample would take another way than the next: only so
are several worked out by one instruction. A moment past the written days is put back
by whole weeks into the plain one that follows them.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import apart, bare, inlined
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.timeline import PER_DAY, PER_WEEK, TINY

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]

A_DAY = 1.0 / PER_DAY


@bare
def before_moment(
    pattern: Ints,
    start: Ints,
    before: Ints,
    end: float,
    week_total: float,
    moment: float,
) -> float:
    """Return the working quarters of one clock before a moment."""
    weeks = math.floor(max(moment - end, 0.0) / PER_WEEK)
    inside = moment - weeks * PER_WEEK
    quarter = np.int32(inside)
    day = np.int32((quarter + 0.5) * A_DAY)
    at = pattern[day] + quarter - day * np.int32(PER_DAY)
    low = before[at]
    part = (inside - quarter) * (before[at + 1] - low)
    return float(weeks * week_total + start[day] + low + part)


@bare
def when_done(
    at: Ints, first: int, end: float, total: float, week_total: float, amount: float
) -> float:
    """Return when an amount of one clock's work is done."""
    k = max(math.ceil(amount - TINY) - 1.0, 0.0)
    weeks = math.floor(max(k - total, 0.0) / max(week_total, 1.0))
    rest = min(k - weeks * week_total, total + week_total)
    done = (amount - k) + (weeks * PER_WEEK + at[first + np.int32(rest)])
    shut = (week_total == 0.0) & (k >= total)  # never open again
    return end + amount if shut else done


@inlined
def worked(clocks: ClockArrays, c: int, moment: float) -> float:
    """Return the working quarters of clock `c` before a moment."""
    week_total = float(clocks.clock[c].week_total)
    pattern, start = clocks.pattern[c], clocks.start[c]
    end = float(clocks.end)
    return before_moment(pattern, start, clocks.before, end, week_total, moment)


@inlined
def reach(clocks: ClockArrays, c: int, amount: float) -> float:
    """Return when an amount of work counted from the beginning is done."""
    clock = clocks.clock[c]
    total, week_total = float(clock.total), float(clock.week_total)
    end, first = float(clocks.end), clock.at_first
    return when_done(clocks.at, first, end, total, week_total, amount)


@apart
def worked_each(clocks: ClockArrays, c: int, moments: Floats, found: Floats) -> None:
    """Write the working quarters of clock `c` before every moment."""
    end, week_total = float(clocks.end), float(clocks.clock[c].week_total)
    pattern, start, before = clocks.pattern[c], clocks.start[c], clocks.before
    for i in range(len(found)):
        found[i] = before_moment(pattern, start, before, end, week_total, moments[i])


@apart
def reach_each(clocks: ClockArrays, c: int, amounts: Floats, found: Floats) -> None:
    """Write when every amount of work counted from the beginning is done."""
    clock = clocks.clock[c]
    total, week_total = float(clock.total), float(clock.week_total)
    at, first, end = clocks.at, clock.at_first, float(clocks.end)
    for i in range(len(found)):
        found[i] = when_done(at, first, end, total, week_total, amounts[i])


@inlined
def add(clocks: ClockArrays, c: int, moment: float, quarters: float) -> float:
    """Return when `quarters` of work begun at `moment` are done."""
    if clocks.clock[c].always:
        return moment + quarters
    if quarters <= TINY:
        return moment
    return max(moment, reach(clocks, c, worked(clocks, c, moment) + quarters))


@apart
def add_each(
    clocks: ClockArrays, c: int, moments: Floats, quarters: Floats, found: Floats
) -> None:
    """Write when the work begun at every moment is done, as `add` does for one."""
    clock = clocks.clock[c]
    total, week_total = float(clock.total), float(clock.week_total)
    pattern, start, before = clocks.pattern[c], clocks.start[c], clocks.before
    at, first, end = clocks.at, clock.at_first, float(clocks.end)
    if clock.always:
        for i in range(len(found)):
            found[i] = moments[i] + quarters[i]
        return
    for i in range(len(found)):
        begun = before_moment(pattern, start, before, end, week_total, moments[i])
        done = when_done(at, first, end, total, week_total, begun + quarters[i])
        done = max(moments[i], done)
        found[i] = done if quarters[i] > TINY else moments[i]


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
    weeks = math.floor(max(moment - clocks.end, 0.0) / PER_WEEK)
    inside = moment - weeks * PER_WEEK
    quarter = np.int32(inside)
    day = np.int32((quarter + 0.5) * A_DAY)
    at = clocks.pattern[c, day] + quarter - day * np.int32(PER_DAY)
    hours, order = max(clocks.hours[c, day], 1), clocks.order[c, day]
    low = clocks.before[at] / hours + order
    high = clocks.before[at + 1] / hours + order
    part = (inside - quarter) * (high - low)
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
    day = clocks.works[clock.works_first + rest]
    before = clocks.start[c, day] + float(weeks * clock.week_total)
    return max(moment, reach(clocks, c, before + (amount - k) * clocks.hours[c, day]))


@inlined
def unbroken(clocks: ClockArrays, c: int, ready: float, length: float) -> float:
    """Return the first start whose work meets no closed day, where there is one."""
    first = opening(clocks, c, ready)
    start, last = first, clocks.end // PER_DAY
    for _ in range(60):
        finish = add(clocks, c, start, length)
        began = clocks.run[c, min(int(start // PER_DAY), last)]
        if began == clocks.run[c, min(int((finish - TINY) // PER_DAY), last)]:
            return start
        start = opening(clocks, c, (start // PER_DAY + 1.0) * PER_DAY)
    return first
