"""Clock arithmetic for compiled loops; each function mirrors one of `many_moments`.

There are no branches where one sample would take another way than the next: only so
are several worked out by one instruction. A moment past the written days is put back
by whole weeks into the plain one that follows them; that takes a division, so where
nothing lies `beyond` it is left out.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import apart, bare, inlined
from scheduling.sampling.chunk import most
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
    beyond: bool,
) -> float:
    """Return the working quarters of one clock before a moment."""
    weeks = np.floor(max(moment - end, 0.0) / PER_WEEK) if beyond else 0.0
    inside = moment - weeks * PER_WEEK
    quarter = np.int32(inside)
    day = np.int32((quarter + 0.5) * A_DAY)
    at = pattern[day] + quarter - day * np.int32(PER_DAY)
    low = before[at]
    part = (inside - quarter) * (before[at + 1] - low)
    return float(weeks * week_total + start[day] + low + part)


@bare
def when_done(
    at: Ints,
    first: int,
    end: float,
    total: float,
    week_total: float,
    amount: float,
    beyond: bool,
) -> float:
    """Return when an amount of one clock's work is done."""
    k = max(np.ceil(amount - TINY) - 1.0, 0.0)
    weeks = np.floor(max(k - total, 0.0) / max(week_total, 1.0)) if beyond else 0.0
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
    return before_moment(pattern, start, clocks.before, end, week_total, moment, True)


@inlined
def reach(clocks: ClockArrays, c: int, amount: float) -> float:
    """Return when an amount of work counted from the beginning is done."""
    clock = clocks.clock[c]
    total, week_total = float(clock.total), float(clock.week_total)
    end, first = float(clocks.end), clock.at_first
    return when_done(clocks.at, first, end, total, week_total, amount, True)


@apart
def worked_each(clocks: ClockArrays, c: int, moments: Floats, found: Floats) -> None:
    """Write the working quarters of clock `c` before every moment."""
    end, week_total = float(clocks.end), float(clocks.clock[c].week_total)
    pattern, start, before = clocks.pattern[c], clocks.start[c], clocks.before
    beyond = most(moments) > end
    for i in range(len(found)):
        found[i] = before_moment(
            pattern, start, before, end, week_total, moments[i], beyond
        )


@apart
def through_each(
    clocks: ClockArrays,
    c: int,
    start: Floats,
    begin: Floats,
    end: Floats,
    found: Floats,
) -> None:
    """Write when work is done that lies between two counts of working quarters."""
    clock = clocks.clock[c]
    total, week_total = float(clock.total), float(clock.week_total)
    at, first, last = clocks.at, clock.at_first, float(clocks.end)
    if clock.always:
        for i in range(len(found)):
            found[i] = start[i] + (end[i] - begin[i])
        return
    beyond = most(end) > total
    for i in range(len(found)):
        done = when_done(at, first, last, total, week_total, end[i], beyond)
        found[i] = max(start[i], done) if end[i] - begin[i] > TINY else start[i]


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
    beyond = most(moments) > end
    for i in range(len(found)):
        found[i] = quarters[i] + before_moment(
            pattern, start, before, end, week_total, moments[i], beyond
        )
    beyond = most(found) > total
    for i in range(len(found)):
        done = when_done(at, first, end, total, week_total, found[i], beyond)
        done = max(moments[i], done)
        found[i] = done if quarters[i] > TINY else moments[i]


@inlined
def opening(clocks: ClockArrays, c: int, moment: float) -> float:
    """Return the first working moment at or after `moment`."""
    if clocks.clock[c].always:
        return moment
    amount = np.floor(worked(clocks, c, moment) + TINY) + 1.0
    return max(moment, reach(clocks, c, amount) - 1.0)


@bare
def days_before(
    pattern: Ints,
    hours: Ints,
    order: Ints,
    before: Ints,
    end: float,
    week_days: float,
    moment: float,
    beyond: bool,
) -> float:
    """Return the working days of one clock before a moment, the current one in part."""
    weeks = np.floor(max(moment - end, 0.0) / PER_WEEK) if beyond else 0.0
    inside = moment - weeks * PER_WEEK
    quarter = np.int32(inside)
    day = np.int32((quarter + 0.5) * A_DAY)
    at = pattern[day] + quarter - day * np.int32(PER_DAY)
    shared = max(hours[day], 1)
    low = before[at] / shared + order[day]
    high = before[at + 1] / shared + order[day]
    part = (inside - quarter) * (high - low)
    return float(weeks * week_days + part + low)


@apart
def add_days_each(
    clocks: ClockArrays, c: int, moments: Floats, days: Floats, found: Floats
) -> None:
    """Write when the working days begun at every moment are done."""
    clock = clocks.clock[c]
    total, week_total = float(clock.total), float(clock.week_total)
    written, week_days = float(clock.written_days), float(clock.week_days)
    pattern, start, order = clocks.pattern[c], clocks.start[c], clocks.order[c]
    hours, before, works, at = clocks.hours[c], clocks.before, clocks.works, clocks.at
    day_first, first, end = clock.works_first, clock.at_first, float(clocks.end)
    beyond = most(moments) > end
    for i in range(len(found)):
        found[i] = days[i] + days_before(
            pattern, hours, order, before, end, week_days, moments[i], beyond
        )
    beyond = most(found) > written
    for i in range(len(found)):
        amount = found[i]
        k = max(np.ceil(amount - TINY) - 1.0, 0.0)
        weeks = np.floor(max(k - written, 0.0) / max(week_days, 1.0)) if beyond else 0.0
        day = works[day_first + np.int32(k - weeks * week_days)]
        whole = start[day] + weeks * week_total
        work = whole + (amount - k) * hours[day]
        done = when_done(at, first, end, total, week_total, work, beyond)
        done = max(moments[i], done)
        found[i] = done if days[i] > TINY else moments[i]


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
