"""Runs the compiled loops over a range of samples, chunk by chunk."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import bare
from scheduling.sampling.chunk import CHUNK, Chunk, least, most
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.sampling.mark_steps import mark, mark_ends
from scheduling.sampling.node_records import PLACE, SKIP, NodeArrays
from scheduling.sampling.node_steps import book, book_at_once, place
from scheduling.sampling.times import Times


@bare
def run_range(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    todo: NDArray[np.int8],
    goal_off: NDArray[np.int32],
    goal_end: NDArray[np.int32],
    hits: NDArray[np.int64],
    chunk: Chunk,
    first: int,
    last: int,
) -> None:
    """Place samples first..last; where goals are given, count what drives them."""
    marking = len(goal_off) > 1
    for low in range(first, last, CHUNK):
        high = min(low + CHUNK, last)
        chunk.blocks[:], chunk.most[:] = 0, 0
        for n in nodes.order:
            booked = todo[n] == SKIP
            if todo[n] == PLACE:
                place(clocks, nodes, rows, chunk, n, low, high)
                booked = book_at_once(nodes, rows, chunk, n, low, high)
            if not booked:
                book(clocks, nodes, rows, chunk, n, low, high)
            if todo[n] != SKIP or marking:
                chunk.first_start[n] = least(rows.start[n, low:high])
                chunk.last_finish[n] = most(rows.finish[n, low:high])
        if marking:
            chunk.on[:] = 0
            mark_ends(rows, goal_off, goal_end, chunk.on, low, high)
            mark(
                clocks,
                nodes,
                rows,
                chunk,
                hits,
                low,
                high,
            )
