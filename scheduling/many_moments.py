"""Clock arithmetic on arrays of moments; each function mirrors a `Clock` method."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.clock_tables import ClockTables
from scheduling.timeline import PER_WEEK, TINY

Floats = NDArray[np.float64]
AnyNumbers = NDArray[np.int32] | NDArray[np.float64]


def worked_each(clock: ClockTables, moments: Floats) -> Floats:
    """Return `worked` of every moment (none of them negative)."""
    return _read(clock, moments, clock.cum, clock.week_cum)


def days_worked_each(clock: ClockTables, moments: Floats) -> Floats:
    """Return `days_worked` of every moment (none of them negative)."""
    return _read(clock, moments, clock.day_cum, clock.week_day_cum)


def _read(
    clock: ClockTables, moments: Floats, table: AnyNumbers, week: AnyNumbers
) -> Floats:
    """Read a cumulative table between its points, and repeat the week past its end."""
    if moments.size and moments.max() >= clock.end:
        beyond = np.maximum(moments - clock.end, 0.0)
        weeks, rest = np.divmod(beyond, PER_WEEK)
        inside = np.minimum(moments, clock.end - 1e-9)
        late = table[-1] + weeks * week[-1] + _between(week, rest)
        return np.where(moments >= clock.end, late, _between(table, inside))
    return _between(table, moments)


def _between(table: AnyNumbers, moments: Floats) -> Floats:
    i = moments.astype(np.intp)
    low = table.take(i)
    i += 1
    part = moments - (i - 1)
    part *= table.take(i) - low
    part += low
    return part


def _reach_each(clock: ClockTables, amount: Floats) -> Floats:
    k = np.ceil(amount - TINY).astype(np.intp)
    k -= 1
    np.maximum(k, 0, out=k)
    total = len(clock.at)
    if k.size and k.max() >= total:
        weeks, rest = np.divmod(np.maximum(k - total, 0), len(clock.week_at))
        late = clock.end + weeks * PER_WEEK + clock.week_at[rest]
        if total:
            late = np.where(k < total, clock.at[np.minimum(k, total - 1)], late)
        return np.asarray(late + (amount - k), dtype=np.float64)
    reached = amount - k
    reached += clock.at.take(k)
    return reached


def add_each(clock: ClockTables, moments: Floats, quarters: Floats) -> Floats:
    """Return `add` for every moment and amount."""
    if clock.always:
        return moments + quarters
    reached = _reach_each(clock, worked_each(clock, moments) + quarters)
    return np.where(quarters > TINY, np.maximum(moments, reached), moments)


def opening_each(clock: ClockTables, moments: Floats) -> Floats:
    """Return `opening` of every moment."""
    if clock.always:
        return moments
    first = _reach_each(clock, np.floor(worked_each(clock, moments) + TINY) + 1.0) - 1.0
    return np.maximum(moments, first)


def add_days_each(clock: ClockTables, moments: Floats, days: Floats) -> Floats:
    """Return `add_days` for every moment and number of days."""
    amount = days_worked_each(clock, moments) + days
    k = np.ceil(amount - TINY).astype(np.intp)
    k -= 1
    np.maximum(k, 0, out=k)
    written = clock.written_days
    weeks = np.zeros(1)
    at = k
    if k.size and k.max() >= written:
        weeks, rest = np.divmod(np.maximum(k - written, 0), max(clock.week_days, 1))
        at = np.where(k < written, k, written + rest)
    day = clock.working_days.take(at)
    hours = clock.day_hours.take(day)
    before = clock.day_starts.take(day) + weeks * float(clock.week_cum[-1])
    reached = _reach_each(clock, before + (amount - k) * hours)
    return np.where(days > TINY, np.maximum(moments, reached), moments)
