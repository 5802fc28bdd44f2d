"""The simulation's inner loops: one node in one chunk of samples, for compiling.

A chunk is small enough for the processor's cache. Arrays are nodes x samples, of
which a chunk is the columns first..last; `rows` does the same without compiling.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import apart, bare
from scheduling.sampling.begin_steps import begin
from scheduling.sampling.chunk import Chunk
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.sampling.clock_steps import add_days_each, add_each, worked_each
from scheduling.sampling.give_steps import give_each, give_unseen
from scheduling.sampling.hand_steps import by_hand, is_whole, pick, put
from scheduling.sampling.node_records import (
    BY,
    DAYS,
    HOURS,
    PROMISED,
    NodeArrays,
)
from scheduling.sampling.room_steps import make_room
from scheduling.sampling.times import Times
from scheduling.sampling.wait_steps import wait

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]
Picked = NDArray[np.int64]  # samples of a chunk, counted from its first

TRIES = 50


@apart
def put_later(done: Floats, finish: Floats) -> None:
    """Move every finish to when something is done, where that is later."""
    for i in range(len(done)):
        finish[i] = max(finish[i], done[i])


@bare
def work(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    w: int,
    first: int,
    here: Picked,
) -> None:
    """Move a node's finish to when one of its jobs is done."""
    c, kind, m, whole = (
        nodes.work[w].clock,
        nodes.work[w].kind,
        len(here),
        is_whole(here),
    )
    start, amount = rows.start[n, first : first + m], rows.amounts[w, first : first + m]
    if not whole:
        start, amount = chunk.usual[:m], chunk.soonest[:m]
        pick(rows.start[n, first:], here, start)
        pick(rows.amounts[w, first:], here, amount)
    done = chunk.reached[:m]
    if kind == PROMISED:
        done = amount
    elif kind == DAYS:
        add_days_each(clocks, c, start, amount, done)
    elif kind == HOURS:
        add_each(clocks, c, start, amount, done)
    else:
        done = start
    if whole:
        put_later(done, rows.finish[n, first : first + m])
        return
    for i in range(m):
        s = first + here[i]
        rows.finish[n, s] = max(rows.finish[n, s], done[i])


@bare
def finish(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    here: Picked,
) -> None:
    """Write when a node is done, from when it starts."""
    node = nodes.node[n]
    if node.lead >= 0:
        by_hand(clocks, nodes, rows, chunk, n, first, here)
        if node.lead_only:
            return
    elif is_whole(here):
        put(rows.start[n, first : first + len(here)], rows.finish[n, first:])
    else:
        for i in here:
            rows.finish[n, first + i] = rows.start[n, first + i]
    for w in range(node.work_first, node.work_last):
        work(clocks, nodes, rows, chunk, n, w, first, here)


@bare
def settle(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    last: int,
) -> None:
    """Move a node until its places and second people are free."""
    count = last - first
    for i in range(count):
        chunk.here[i] = i
    for _ in range(TRIES):
        chunk.again[:] = 0
        for group in range(nodes.node[n].group_first, nodes.node[n].group_last):
            more = make_room(nodes, rows, chunk, n, group, first, chunk.here[:count])
            if more:
                moved = chunk.moved[:more]
                finish(clocks, nodes, rows, chunk, n, first, moved)
                for i in moved:
                    chunk.again[i] = 1
        left = 0
        for i in chunk.here[:count]:
            if chunk.again[i]:
                chunk.here[left] = i
                left += 1
        count = left
        if not count:
            return


@bare
def place(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    last: int,
) -> None:
    """Work out one node in samples first..last."""
    wait(clocks, nodes, rows, chunk, n, first, last)
    begin(clocks, nodes, rows, n, first, last)
    finish(clocks, nodes, rows, chunk, n, first, chunk.every[: last - first])
    if nodes.node[n].group_first < nodes.node[n].group_last:
        settle(clocks, nodes, rows, chunk, n, first, last)
    for i in range(last - first):
        rows.finish[n, first + i] = max(rows.finish[n, first + i], chunk.late[i])


@bare
def book(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    last: int,
) -> None:
    """Give away the hours of everyone a node holds."""
    node, size = nodes.node[n], last - first
    begin, end, who = chunk.amount[:size], chunk.reached[:size], chunk.who[:size]
    for h in range(node.hold_first, node.hold_last):
        choices = node.choice_last - node.choice_first
        chosen = h == node.hold_first and choices > 1
        for at in range(choices if chosen else 1):
            p = nodes.hold[h].person
            if chosen:
                p = nodes.choice[node.choice_first + at].person
            worked_each(clocks, nodes.own[p], rows.start[n, first:last], begin)
            worked_each(clocks, nodes.own[p], rows.finish[n, first:last], end)
            for i in range(size):
                who[i] = rows.who[n, first + i] if chosen else 0
            chunk.most[p] = give_unseen(
                chunk.starts[p],
                chunk.ends[p],
                chunk.blocks[p],
                chunk.most[p],
                begin,
                end,
                who,
                at,
            )


@bare
def book_at_once(
    nodes: NodeArrays, rows: Times, chunk: Chunk, n: int, first: int, last: int
) -> bool:
    """Give away the hours just worked out, where they are all there is to it."""
    node = nodes.node[n]
    if not node.lead_only or node.lead < 0 or node.hold_last - node.hold_first > 1:
        return False
    for arc in range(node.arc_first, node.arc_last):
        if nodes.arc[arc].kind == BY:
            return False
    size = last - first
    for at in range(node.choice_last - node.choice_first):
        p = nodes.choice[node.choice_first + at].person
        chunk.most[p] = give_each(
            chunk.starts[p],
            chunk.ends[p],
            chunk.blocks[p],
            chunk.most[p],
            chunk.begin[:size],
            chunk.end[:size],
            chunk.low[:size],
            chunk.high[:size],
            rows.who[n, first:last],
            at,
        )
    return True
