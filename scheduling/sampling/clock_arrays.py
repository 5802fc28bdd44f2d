"""Clocks as a few small arrays, so that compiled loops can read them.

Days of one clock look alike: each written day (and each day of the plain week) names
one of a few patterns of 96 quarters.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from scheduling.clock_tables import ClockTables
from scheduling.timeline import PER_DAY

Ints = NDArray[np.int32]

CLOCK = np.dtype(
    [
        (name, np.int32)
        for name in (
            *("always", "total", "week_total", "week_days", "written_days"),
            *("at_first", "works_first"),
        )
    ],
    align=True,
)
DAY = np.dtype(
    [(name, np.int32) for name in ("pattern", "start", "order", "hours", "run")],
    align=True,
)


class ClockArrays(NamedTuple):
    """Clocks as rows.

    `days[c, day]` are the written days, then seven of the plain week: `pattern` is a
    row of `before` (working quarters before each quarter of a day), `start` and `order`
    count working quarters and working days before the day, `hours` its own quarters,
    `run` the closed days so far. `at` from `at_first` is where each working quarter
    lies, `works` from `works_first` which day each working day is.
    """

    end: int
    clock: NDArray[Any]
    days: NDArray[Any]
    at: Ints
    works: Ints
    before: Ints


def arrays_of(clocks: Sequence[ClockTables]) -> ClockArrays:
    """Return clocks of one timeline as arrays, in their order.

    Notes
    -----
    O(clocks x days).
    """
    whole = [np.concatenate([one.working, one.week]) for one in clocks]
    packed = np.packbits(np.array(whole).reshape(-1, PER_DAY), axis=1)
    _, first, kinds = np.unique(
        packed.view("V12").ravel(), return_index=True, return_inverse=True
    )
    patterns = np.concatenate(whole).reshape(-1, PER_DAY)[first]
    before = np.zeros((len(patterns), PER_DAY + 1), dtype=np.int32)
    np.cumsum(patterns, axis=1, out=before[:, 1:])
    ats = [np.concatenate([one.at, one.end + one.week_at]) for one in clocks]
    works = [one.working_days for one in clocks]
    days = np.zeros((len(clocks), clocks[0].end // PER_DAY + 7), dtype=DAY)
    days["pattern"] = kinds.reshape(days.shape)
    rows = np.zeros(len(clocks), dtype=CLOCK)
    rows["at_first"] = np.cumsum([0, *map(len, ats[:-1])])
    rows["works_first"] = np.cumsum([0, *map(len, works[:-1])])
    for c, clock in enumerate(clocks):
        start = np.concatenate([[0], np.cumsum(clock.day_hours)])
        days["start"][c] = start[:-1]
        days["order"][c] = clock.day_order[:-1]
        days["hours"][c] = clock.day_hours
        days["run"][c, : len(clock.runs)] = clock.runs
        rows[c]["always"] = clock.always
        rows[c]["total"], rows[c]["week_total"] = start[-8], start[-1] - start[-8]
        rows[c]["week_days"] = clock.week_days
        rows[c]["written_days"] = clock.written_days
    joined = np.concatenate(ats).astype(np.int32)
    return ClockArrays(
        clocks[0].end,
        rows,
        days,
        joined,
        np.concatenate(works).astype(np.int32),
        before,
    )
