"""What drove each date, sample by sample, for compiling; mirrors `driving`."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import bare
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.sampling.node_records import BY, NodeArrays
from scheduling.sampling.times import Times
from scheduling.sampling.wait_steps import ask
from scheduling.timeline import TINY

Ints = NDArray[np.int32]
Floats = NDArray[np.float64]
Marks = NDArray[np.uint8]


@bare
def mark_ends(
    rows: Times, goal_off: Ints, goal_end: Ints, on: Marks, first: int, last: int
) -> None:
    """Mark the last ends of every goal."""
    for goal in range(len(goal_off) - 1):
        for s in range(first, last):
            latest = -np.inf
            for at in range(goal_off[goal], goal_off[goal + 1]):
                latest = max(latest, rows.finish[goal_end[at], s])
            for at in range(goal_off[goal], goal_off[goal + 1]):
                if rows.finish[goal_end[at], s] >= latest - TINY:
                    on[goal_end[at], s - first] = 1


@bare
def spread(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    on: Marks,
    asked: Floats,
    here: NDArray[np.int64],
    n: int,
    first: int,
) -> None:
    """Mark what set one node's start, or had its people or places meanwhile.

    `here` are the samples of the chunk in which the node is marked itself.
    """
    node = nodes.node[n]
    for arc in range(node.arc_first, node.arc_last):
        before, by = nodes.arc[arc].before, nodes.arc[arc].kind == BY
        ask(clocks, nodes, rows, arc, first, asked)
        for i in here:
            bar = rows.finish[n, first + i] if by else rows.ready[n, first + i]
            if asked[i] >= bar - TINY:
                on[before, i] = 1
    for at in range(node.user_first, node.user_last):
        use = nodes.use[at]
        before, mine, theirs = use.node, use.mine, use.theirs
        for i in here:
            s = first + i
            met = rows.finish[before, s] > rows.ready[n, s]
            met = met and rows.start[before, s] < rows.finish[n, s]
            met = met and (mine < 0 or mine == rows.who[n, s])
            if met and (theirs < 0 or theirs == rows.who[before, s]):
                on[before, i] = 1


@bare
def mark(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    on: Marks,
    asked: Floats,
    here: NDArray[np.int64],
    hits: NDArray[np.int64],
    first: int,
    last: int,
) -> None:
    """Count for every node the samples first..last in which it sets some date."""
    for at in range(len(nodes.order) - 1, -1, -1):
        n, count = nodes.order[at], 0
        for i in range(last - first):
            if on[n, i]:
                here[count] = i
                count += 1
        if count:
            hits[n] += count
            spread(
                clocks, nodes, rows, on, asked[: last - first], here[:count], n, first
            )
