"""Clock arithmetic on arrays of moments; each function mirrors a `Clock` method."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.clock_tables import ClockTables
from scheduling.timeline import PER_DAY, PER_WEEK, TINY

Floats = NDArray[np.float64]


def worked_each(clock: ClockTables, moments: Floats) -> Floats:
    """Return `worked` of every moment."""
    inside = np.clip(moments, 0.0, clock.end)
    i = inside.astype(np.intp)
    amount = clock.cum[i] + (inside - i) * clock.is_open[i]
    if moments.size and moments.max() > clock.end:
        weeks, rest = np.divmod(np.maximum(moments - clock.end, 0.0), PER_WEEK)
        j = rest.astype(np.intp)
        part = (rest - j) * np.append(clock.week, False)[j]
        amount = amount + weeks * clock.week_cum[-1] + clock.week_cum[j] + part
    return np.asarray(amount, dtype=np.float64)


def _reach_each(clock: ClockTables, amount: Floats) -> Floats:
    k = np.ceil(amount - TINY).astype(np.intp) - 1
    np.maximum(k, 0, out=k)
    total = len(clock.at)
    if k.size and k.max() >= total:
        weeks, rest = np.divmod(np.maximum(k - total, 0), len(clock.week_at))
        late = clock.end + weeks * PER_WEEK + clock.week_at[rest]
        if total:
            late = np.where(k < total, clock.at[np.minimum(k, total - 1)], late)
        return np.asarray(late + (amount - k), dtype=np.float64)
    return np.asarray(clock.at[k] + (amount - k), dtype=np.float64)


def add_each(clock: ClockTables, moments: Floats, quarters: Floats) -> Floats:
    """Return `add` for every moment and amount."""
    if clock.always:
        return moments + quarters
    reached = _reach_each(clock, worked_each(clock, moments) + quarters)
    return np.where(quarters > TINY, np.maximum(moments, reached), moments)


def opening_each(clock: ClockTables, moments: Floats) -> Floats:
    """Return `opening` of every moment."""
    first = _reach_each(clock, np.floor(worked_each(clock, moments) + TINY) + 1.0) - 1.0
    return np.maximum(moments, first)


def add_days_each(clock: ClockTables, moments: Floats, days: Floats) -> Floats:
    """Return `add_days` for every moment and number of days."""
    amount = days_worked_each(clock, moments) + days
    k = np.maximum(np.ceil(amount - TINY).astype(np.intp) - 1, 0)
    written = clock.written_days
    weeks, rest = np.divmod(np.maximum(k - written, 0), max(clock.week_days, 1))
    at = np.where(k < written, k, written + rest)
    day = clock.working_days[at]
    hours = clock.day_hours[day]
    before = worked_each(clock, (day + weeks * 7).astype(np.float64) * PER_DAY)
    reached = _reach_each(clock, before + (amount - k) * hours)
    return np.where(days > TINY, np.maximum(moments, reached), moments)


def days_worked_each(clock: ClockTables, moments: Floats) -> Floats:
    """Return `days_worked` of every moment."""
    beyond = np.maximum(moments - clock.end, 0.0)
    weeks = np.floor(beyond / PER_WEEK)
    inside = np.maximum(np.where(beyond > 0, clock.end + beyond % PER_WEEK, moments), 0)
    day = (inside // PER_DAY).astype(np.intp)
    hours = clock.day_hours[day]
    start = moments - (inside - day * PER_DAY)
    part = (worked_each(clock, moments) - worked_each(clock, start)) / np.maximum(
        hours, 1
    )
    return np.asarray(weeks * clock.week_days + clock.day_order[day] + part)
