"""The clocks of a plan as tables, and their arithmetic for compiled code.

The same formulas as `working_time.Clock`, moment by moment; `c` is a clock's number.
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import Any

import numpy as np

from scheduling.clock_tables import WORKSHOPS, ClockTables
from scheduling.compiled import bare
from scheduling.search.arrays import Hours, table
from scheduling.timeline import PER_DAY, PER_WEEK, TINY

TABLES = {
    "cum": "cum",
    "at": "at",
    "week_cum": "week_cum",
    "week_at": "week_at",
    "day_hours": "day_hours",
    "day_order": "day_order",
    "working_day": "working_days",
    "runs": "runs",
}  # name of each part of the tape, and where a clock has it
TRIES = 400  # closed stretches an unbroken job looks past


@lru_cache(WORKSHOPS)
def hours_of(clocks: tuple[ClockTables, ...]) -> Hours:
    """Return the tables of clocks that share one timeline, end to end on one tape."""
    parts: list[Any] = []
    columns: dict[str, list[int]] = {f"{name}_from": [] for name in TABLES}
    length = 0
    for clock in clocks:
        for name, attribute in TABLES.items():
            part = getattr(clock, attribute)
            columns[f"{name}_from"].append(length)
            parts.append(part)
            length += len(part)
    columns |= {
        "at_len": [len(one.at) for one in clocks],
        "week_len": [len(one.week_at) for one in clocks],
        "runs_len": [len(one.runs) for one in clocks],
        "week_days": [one.week_days for one in clocks],
        "written_days": [one.written_days for one in clocks],
    }
    tape = np.concatenate(parts, dtype=np.int32, casting="same_kind")
    return Hours(clocks[0].end, table(columns, len(clocks)), tape)


@bare
def worked(h: Hours, c: int, moment: float) -> float:
    """Return the quarters of work before a moment."""
    if moment <= 0:
        return min(moment, 0.0)
    if moment >= h.end:
        weeks = (moment - h.end) // PER_WEEK
        rest = (moment - h.end) % PER_WEEK
        i = int(rest)
        week = h.clock[c].week_cum_from
        before = h.tape[week + i]
        part = 0.0
        if i < PER_WEEK and h.tape[week + i + 1] > before:
            part = rest - i
        past = weeks * h.tape[week + PER_WEEK] + before + part
        return float(h.tape[h.clock[c].cum_from + h.end] + past)
    i = int(moment)
    at = h.clock[c].cum_from + i
    before = h.tape[at]
    return float(before + (moment - i) * (h.tape[at + 1] - before))


@bare
def where(h: Hours, c: int, k: int) -> int:
    """Return where the k-th working quarter (from 0) begins."""
    beyond = k - h.clock[c].at_len
    if beyond < 0:
        return int(h.tape[h.clock[c].at_from + k])
    weeks = beyond // h.clock[c].week_len
    rest = beyond % h.clock[c].week_len
    return int(h.end + weeks * PER_WEEK + h.tape[h.clock[c].week_at_from + rest])


@bare
def add(h: Hours, c: int, moment: float, quarters: float) -> float:
    """Return when `quarters` of work begun at `moment` are done."""
    if quarters <= TINY:
        return moment
    amount = worked(h, c, moment) + quarters
    k = math.ceil(amount - TINY) - 1
    return max(moment, where(h, c, max(k, 0)) + (amount - k))


@bare
def back(h: Hours, c: int, moment: float, quarters: float) -> float:
    """Return the latest start whose `quarters` of work are done by `moment`."""
    amount = worked(h, c, moment) - quarters
    if amount < -TINY:
        return amount + min(0.0, moment)
    k = math.floor(amount + TINY)
    return where(h, c, k) + max(0.0, amount - k)


@bare
def opening(h: Hours, c: int, moment: float) -> float:
    """Return the first working moment at or after `moment`."""
    return max(moment, back(h, c, moment, 0.0))


@bare
def days_worked(h: Hours, c: int, moment: float) -> float:
    """Return working days before a moment, the current day in part."""
    weeks, inside = 0.0, max(moment, 0.0)
    if moment >= h.end:
        weeks = (moment - h.end) // PER_WEEK
        inside = h.end + (moment - h.end) % PER_WEEK
    day = int(inside // PER_DAY)
    much = h.tape[h.clock[c].day_hours_from + day]
    part = 0.0
    if much:
        midnight = moment - inside % PER_DAY
        part = (worked(h, c, moment) - worked(h, c, midnight)) / much
    whole = weeks * h.clock[c].week_days + h.tape[h.clock[c].day_order_from + day]
    return float(whole + part)


@bare
def day_number(h: Hours, c: int, k: int) -> tuple[int, int]:
    """Return the k-th working day (from 0) and its working quarters."""
    written, each = h.clock[c].written_days, h.clock[c].week_days
    weeks, at = 0, k
    if k >= written:
        weeks = (k - written) // each
        at = written + (k - written) % each
    day = int(h.tape[h.clock[c].working_day_from + at])
    return day + weeks * 7, int(h.tape[h.clock[c].day_hours_from + day])


@bare
def add_days(h: Hours, c: int, moment: float, days: float) -> float:
    """Return when `days` working days begun at `moment` are done."""
    if days <= TINY:
        return moment
    amount = days_worked(h, c, moment) + days
    k = math.ceil(amount - TINY) - 1
    day, much = day_number(h, c, max(k, 0))
    return max(moment, add(h, c, float(day * PER_DAY), (amount - k) * much))


@bare
def back_days(h: Hours, c: int, moment: float, days: float) -> float:
    """Return the latest start whose `days` working days are done by `moment`."""
    amount = days_worked(h, c, moment) - days
    if amount < -TINY:
        return amount * PER_DAY
    k = math.floor(amount + TINY)
    day, much = day_number(h, c, k)
    reached = add(h, c, float(day * PER_DAY), max(0.0, amount - k) * much)
    return back(h, c, reached, 0.0)


@bare
def run(h: Hours, c: int, moment: float) -> int:
    """Return which run between closed or away days a moment lies in."""
    day = min(int(moment // PER_DAY), h.clock[c].runs_len - 1)
    return int(h.tape[h.clock[c].runs_from + day])


@bare
def unbroken_start(h: Hours, c: int, start: float, length: float) -> float:
    """Return the first start whose work meets no closed day; -1 if there is none."""
    for _ in range(TRIES):
        start = opening(h, c, start)
        finish = add(h, c, start, length)
        if run(h, c, start) == run(h, c, max(start, finish - TINY)):
            return start
        start = (start // PER_DAY + 1) * PER_DAY
    return -1.0
