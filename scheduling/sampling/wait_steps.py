"""When nothing before a node is in its way, for compiling."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import bare
from scheduling.sampling.chunk import Chunk
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.sampling.clock_steps import add_days_each, opening
from scheduling.sampling.node_records import BY, WITH, NodeArrays
from scheduling.sampling.times import Times

Floats = NDArray[np.float64]


@bare
def ask(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    arc: int,
    first: int,
    asked: Floats,
    ended: Floats,
    more: Floats,
) -> None:
    """Write the earliest start (or finish, for "by") an arc allows.

    `ended` and `more` are room to work in.
    """
    link, shop = nodes.arc[arc], nodes.shop
    source, wait, days = link.before, link.wait, link.days
    if link.kind == WITH:
        c = nodes.node[source].clock
        for i in range(len(asked)):
            asked[i] = opening(clocks, c, rows.start[source, first + i]) + wait
    else:
        for i in range(len(asked)):
            asked[i] = rows.finish[source, first + i] + wait
    if days != 0.0:
        for i in range(len(asked)):
            ended[i], more[i] = asked[i], days
        add_days_each(clocks, shop, ended, more, asked)


@bare
def wait(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    last: int,
) -> None:
    """Write when nothing before a node is in its way, and its earliest finish."""
    size, node = last - first, nodes.node[n]
    for i in range(size):
        rows.ready[n, first + i] = node.release
        chunk.late[i] = 0.0
    asked, ended, more = chunk.amount[:size], chunk.usual[:size], chunk.soonest[:size]
    for arc in range(node.arc_first, node.arc_last):
        ask(clocks, nodes, rows, arc, first, asked, ended, more)
        if nodes.arc[arc].kind == BY:
            for i in range(size):
                chunk.late[i] = max(chunk.late[i], asked[i])
        else:
            for i in range(size):
                rows.ready[n, first + i] = max(rows.ready[n, first + i], asked[i])
