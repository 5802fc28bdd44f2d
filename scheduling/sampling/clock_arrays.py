"""Clocks as a few small arrays, so that compiled loops can read them.

Days of one clock look alike: each written day (and each day of the plain week) names
one of a few patterns of 96 quarters.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scheduling.clock_tables import ClockTables
from scheduling.timeline import PER_DAY

Ints = NDArray[np.int32]


class ClockArrays(NamedTuple):
    """Clocks as rows; `days` are the written days, then seven of the plain week.

    `pattern[c, day]` is a row of `before`: working quarters before each quarter of the
    day. `start[c, day]` counts working quarters before the day, `order[c, day]`
    working days. `at` from `at_first[c]` is where each working quarter lies, `works`
    from `works_first[c]` which day each working day is. `run[c, day]` counts closed
    days so far.
    """

    end: int
    always: NDArray[np.bool_]
    pattern: Ints
    start: Ints
    order: Ints
    run: Ints
    total: Ints
    week_total: Ints
    week_days: Ints
    written_days: Ints
    hours: Ints
    at_first: Ints
    at: Ints
    works_first: Ints
    works: Ints
    before: Ints


class _Parts(NamedTuple):
    """One clock's rows; `patterns` are its kinds of day."""

    kinds: NDArray[np.intp]
    patterns: NDArray[np.bool_]
    start: NDArray[np.int64]
    at: Ints


def arrays_of(clocks: Sequence[ClockTables]) -> ClockArrays:
    """Return clocks of one timeline as arrays, in their order.

    Notes
    -----
    O(clocks x days).
    """
    parts = [_parts(clock) for clock in clocks]
    firsts = np.cumsum([0, *(len(one.patterns) for one in parts)])
    patterns = np.concatenate([one.patterns for one in parts])
    before = np.zeros((len(patterns), PER_DAY + 1), dtype=np.int32)
    np.cumsum(patterns, axis=1, out=before[:, 1:])
    days = [clock.working_days for clock in clocks]
    return ClockArrays(
        end=clocks[0].end,
        always=np.array([clock.always for clock in clocks]),
        pattern=_rows(
            [one.kinds + first for one, first in zip(parts, firsts, strict=False)]
        ),
        start=_rows([one.start for one in parts]),
        order=_rows([clock.day_order for clock in clocks]),
        run=_rows([clock.runs for clock in clocks]),
        total=_row([one.start[-8] for one in parts]),
        week_total=_row([one.start[-1] - one.start[-8] for one in parts]),
        week_days=_row([clock.week_days for clock in clocks]),
        written_days=_row([clock.written_days for clock in clocks]),
        hours=_rows([clock.day_hours for clock in clocks]),
        at_first=_offsets([one.at for one in parts]),
        at=np.concatenate([one.at for one in parts]),
        works_first=_offsets(days),
        works=_row(np.concatenate(days)),
        before=before,
    )


def _parts(clock: ClockTables) -> _Parts:
    days = np.concatenate([clock.working, clock.week]).reshape(-1, PER_DAY)
    packed = np.packbits(days, axis=1).view("V12").ravel()
    _, first, kinds = np.unique(packed, return_index=True, return_inverse=True)
    start = np.concatenate([[0], np.cumsum(clock.day_hours)])
    at = np.concatenate([clock.at, clock.end + clock.week_at]).astype(np.int32)
    return _Parts(kinds, days[first], start, at)


def _rows(rows: Sequence[NDArray[np.int64]]) -> Ints:
    return np.array(rows, dtype=np.int32)


def _row(row: Sequence[int] | NDArray[np.int64]) -> Ints:
    return np.asarray(row, dtype=np.int32)


def _offsets(rows: Sequence[NDArray[np.int64]] | Sequence[Ints]) -> Ints:
    return np.cumsum([0, *(len(row) for row in rows)], dtype=np.int32)
