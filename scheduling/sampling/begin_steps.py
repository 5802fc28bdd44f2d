"""When a node would start with people and places free, for compiling."""

from __future__ import annotations

import numpy as np

from scheduling.compiled import bare
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.sampling.clock_steps import opening, unbroken
from scheduling.sampling.node_records import AT_SLOT, UNBROKEN, NodeArrays
from scheduling.sampling.times import Times
from scheduling.timeline import PER_DAY


@bare
def catch_slot(
    clocks: ClockArrays, nodes: NodeArrays, rows: Times, n: int, first: int, last: int
) -> None:
    """Write the start in the first slot left; earlier takers keep theirs."""
    node = nodes.node[n]
    c = node.clock
    days = nodes.lists[node.slot_first : node.slot_last]
    takers = nodes.lists[node.taker_first : node.taker_last]
    for s in range(first, last):
        ready = opening(clocks, c, rows.ready[n, s])
        k = int(np.searchsorted(days, ready // PER_DAY))
        taken = True
        while taken:
            taken = False
            for row in takers:
                if rows.slot[row, s] == k:
                    k, taken = k + 1, True
        k = min(k, len(days) - 1)
        rows.slot[node.slot_row, s] = k
        opens = opening(clocks, c, float(days[k]) * PER_DAY)
        rows.start[n, s] = max(opens, ready)


@bare
def begin(
    clocks: ClockArrays, nodes: NodeArrays, rows: Times, n: int, first: int, last: int
) -> None:
    """Write when a node would start with people and places free."""
    node = nodes.node[n]
    if node.begins == AT_SLOT:
        catch_slot(clocks, nodes, rows, n, first, last)
    elif node.begins == UNBROKEN:
        c, work = node.clock, node.work_first
        for s in range(first, last):
            rows.start[n, s] = unbroken(
                clocks, c, rows.ready[n, s], rows.amounts[work, s]
            )
    else:
        for s in range(first, last):
            rows.start[n, s] = rows.ready[n, s]
