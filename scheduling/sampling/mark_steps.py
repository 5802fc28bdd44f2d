"""What drove each date, sample by sample, for compiling; mirrors `driving`.

Marks are numbers, 1 or 0, so that several samples are marked by one instruction.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import apart, bare
from scheduling.sampling.chunk import Chunk, least
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.sampling.node_records import BY, NodeArrays
from scheduling.sampling.times import Times
from scheduling.sampling.wait_steps import ask
from scheduling.timeline import TINY

Ints = NDArray[np.int32]
Floats = NDArray[np.float64]


@bare
def mark_ends(
    rows: Times, goal_off: Ints, goal_end: Ints, on: Floats, first: int, last: int
) -> None:
    """Mark the last ends of every goal."""
    for goal in range(len(goal_off) - 1):
        for s in range(first, last):
            latest = -np.inf
            for at in range(goal_off[goal], goal_off[goal + 1]):
                latest = max(latest, rows.finish[goal_end[at], s])
            for at in range(goal_off[goal], goal_off[goal + 1]):
                if rows.finish[goal_end[at], s] >= latest - TINY:
                    on[goal_end[at], s - first] = 1.0


@apart
def asked_for(mine: Floats, asked: Floats, bar: Floats, theirs: Floats) -> None:
    """Mark what a node waited for to the last, where it is marked itself."""
    for i in range(len(mine)):
        drove = (asked[i] >= bar[i] - TINY) & (mine[i] > 0.0)
        theirs[i] = 1.0 if drove else theirs[i]


@apart
def in_the_way(
    mine: Floats,
    ready: Floats,
    finish: Floats,
    began: Floats,
    ended: Floats,
    theirs: Floats,
) -> None:
    """Mark what had a node's people or places meanwhile, where it is marked itself."""
    for i in range(len(mine)):
        met = (ended[i] > ready[i]) & (began[i] < finish[i]) & (mine[i] > 0.0)
        theirs[i] = 1.0 if met else theirs[i]


@apart
def of_those(mine: Floats, who: Ints, choice: int, some: Floats) -> None:
    """Write the marks of those samples alone in which somebody's choice is this."""
    for i in range(len(mine)):
        some[i] = mine[i] if who[i] == choice else 0.0


@bare
def spread(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    last: int,
) -> None:
    """Mark what set one node's start, or had its people or places meanwhile."""
    node, size, on = nodes.node[n], last - first, chunk.on
    mine, asked, some = on[n, :size], chunk.amount[:size], chunk.start[:size]
    ended, more = chunk.usual[:size], chunk.soonest[:size]
    ready, finish = rows.ready[n, first:last], rows.finish[n, first:last]
    begins, ends = least(ready), chunk.last_finish[n]
    for arc in range(node.arc_first, node.arc_last):
        before, by = nodes.arc[arc].before, nodes.arc[arc].kind == BY
        ask(clocks, nodes, rows, arc, first, asked, ended, more)
        asked_for(mine, asked, finish if by else ready, on[before, :size])
    chosen = -1
    for at in range(node.user_first, node.user_last):
        use = nodes.use[at]
        before, marks = use.node, mine
        if chunk.last_finish[before] <= begins or chunk.first_start[before] >= ends:
            continue
        if use.mine >= 0:
            if use.mine != chosen:
                of_those(mine, rows.who[n, first:last], use.mine, some)
                chosen = use.mine
            marks = some
        if use.theirs >= 0:
            of_those(marks, rows.who[before, first:last], use.theirs, asked)
            marks = asked
        in_the_way(
            marks,
            ready,
            finish,
            rows.start[before, first:last],
            rows.finish[before, first:last],
            on[before, :size],
        )


@bare
def mark(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    hits: NDArray[np.int64],
    first: int,
    last: int,
) -> None:
    """Count for every node the samples first..last in which it sets some date."""
    for at in range(len(nodes.order) - 1, -1, -1):
        n, count = nodes.order[at], 0.0
        for i in range(last - first):
            count += chunk.on[n, i]
        if count > 0.0:
            hits[n] += int(count)
            spread(clocks, nodes, rows, chunk, n, first, last)
