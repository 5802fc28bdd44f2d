"""Clocks as a few small arrays, so that compiled loops can read them.

Days of one clock look alike: each written day (and each day of the plain week) names
one of a few patterns of 96 quarters.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from scheduling.clock_tables import WORKSHOPS, ClockTables
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


class ClockArrays(NamedTuple):
    """Clocks as rows.

    Of `[c, day]` the days are the written ones, then seven of the plain week: `pattern`
    is where in `before` (working quarters before each quarter of a day) a day begins,
    `start` and `order` count working quarters and working days before the day, `hours`
    its own quarters, `run` the closed days so far. `at` from `at_first` is where each
    working quarter lies, `works` from `works_first` which day each working day is.
    """

    end: int
    clock: NDArray[Any]
    pattern: Ints
    start: Ints
    order: Ints
    hours: Ints
    run: Ints
    at: Ints
    works: Ints
    before: Ints


@lru_cache(2 * WORKSHOPS)  # with people, and as if nobody waited for anybody
def arrays_of(clocks: tuple[ClockTables, ...]) -> ClockArrays:
    """Return clocks of one timeline as arrays, in their order.

    Notes
    -----
    O(clocks x days).
    """
    kinds = [one.day_kinds for one in clocks]
    days = np.concatenate([found for found, _ in kinds])
    before = np.zeros((len(days), PER_DAY + 1), dtype=np.int32)
    np.cumsum(days, axis=1, out=before[:, 1:])
    firsts = np.cumsum([0, *(len(found) for found, _ in kinds[:-1])])
    pattern = [first + which for first, (_, which) in zip(firsts, kinds, strict=True)]
    # The last place is read, and not used, where a clock never opens again.
    ats = [np.append(np.append(one.at, one.end + one.week_at), 0) for one in clocks]
    works = [one.working_days for one in clocks]
    size = len(clocks), clocks[0].end // PER_DAY + 7
    start, order, hours, run = (np.zeros(size, np.int32) for _ in range(4))
    rows = np.zeros(len(clocks), dtype=CLOCK)
    rows["at_first"] = np.cumsum([0, *map(len, ats[:-1])])
    rows["works_first"] = np.cumsum([0, *map(len, works[:-1])])
    for c, clock in enumerate(clocks):
        before_day = np.concatenate([[0], np.cumsum(clock.day_hours)])
        start[c], order[c] = before_day[:-1], clock.day_order[:-1]
        hours[c], run[c, : len(clock.runs)] = clock.day_hours, clock.runs
        rows[c]["always"] = clock.always
        rows[c]["total"] = before_day[-8]
        rows[c]["week_total"] = before_day[-1] - before_day[-8]
        rows[c]["week_days"] = clock.week_days
        rows[c]["written_days"] = clock.written_days
    joined = np.concatenate(ats).astype(np.int32)
    return ClockArrays(
        clocks[0].end,
        rows,
        (np.array(pattern) * (PER_DAY + 1)).astype(np.int32),
        start,
        order,
        hours,
        run,
        joined,
        np.concatenate(works).astype(np.int32),
        before.ravel(),
    )
