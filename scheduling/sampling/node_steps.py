"""The simulation's inner loops: one node in one chunk of samples, for compiling.

A chunk is small enough for the processor's cache. Arrays are nodes x samples, of
which a chunk is the columns first..last; `rows` does the same without compiling.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import compiled
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.sampling.clock_steps import (
    add,
    add_days,
    opening,
    reach,
    unbroken,
    worked,
)
from scheduling.sampling.node_records import (
    AT_SLOT,
    BY,
    DAYS,
    HOURS,
    PROMISED,
    UNBROKEN,
    WITH,
    NodeArrays,
)
from scheduling.sampling.times import Times
from scheduling.timeline import PER_DAY, TINY

Floats = NDArray[np.float64]
Picked = NDArray[np.int64]  # samples of a chunk, counted from its first

TRIES = 50
MEETS = 1e-6


class Chunk(NamedTuple):
    """One chunk's columns, and room to work in.

    `starts[p, i]` and `ends[p, i]` hold the first `blocks[p, i]` busy blocks of one
    person in sample `first + i`, apart and in order of time, in that person's working
    quarters.
    """

    starts: NDArray[np.float64]
    ends: NDArray[np.float64]
    blocks: NDArray[np.int32]
    begin: Floats
    end: Floats
    late: Floats
    every: Picked
    here: Picked
    moved: Picked
    again: Picked


@compiled
def fit(chunk: Chunk, p: int, here: Picked) -> None:
    """Put work begun at `begin` and lasting to `end` down for every busy block."""
    for i in here:
        at = chunk.blocks[p, i]
        begin, end = chunk.begin[i], chunk.end[i]
        while at > 0 and chunk.ends[p, i, at - 1] > begin:
            at -= 1
        while at < chunk.blocks[p, i] and chunk.starts[p, i, at] < end:
            end += chunk.ends[p, i, at] - max(chunk.starts[p, i, at], begin)
            at += 1
        chunk.end[i] = end


@compiled
def take(chunk: Chunk, p: int, size: int) -> None:
    """Give begin..end away; the blocks it meets become part of it."""
    starts, ends = chunk.starts, chunk.ends
    for i in range(size):
        begin, end = chunk.begin[i], chunk.end[i]
        count = chunk.blocks[p, i]
        low = count
        while low > 0 and ends[p, i, low - 1] >= begin:
            low -= 1
        high = low
        while high < count and starts[p, i, high] <= end:
            high += 1
        if high > low:
            begin = min(begin, starts[p, i, low])
            end = max(end, ends[p, i, high - 1])
        shift = low + 1 - high
        if shift == 1:
            for at in range(count, low, -1):
                starts[p, i, at] = starts[p, i, at - 1]
                ends[p, i, at] = ends[p, i, at - 1]
        elif shift < 0:
            for at in range(high, count):
                starts[p, i, at + shift] = starts[p, i, at]
                ends[p, i, at + shift] = ends[p, i, at]
        starts[p, i, low], ends[p, i, low] = begin, end
        chunk.blocks[p, i] = count + shift


@compiled
def ask(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    arc: int,
    first: int,
    asked: Floats,
) -> None:
    """Write the earliest start (or finish, for "by") an arc allows."""
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
            asked[i] = add_days(clocks, shop, asked[i], days)


@compiled
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
    asked = chunk.begin[:size]
    for arc in range(node.arc_first, node.arc_last):
        ask(clocks, nodes, rows, arc, first, asked)
        if nodes.arc[arc].kind == BY:
            for i in range(size):
                chunk.late[i] = max(chunk.late[i], asked[i])
        else:
            for i in range(size):
                rows.ready[n, first + i] = max(rows.ready[n, first + i], asked[i])


@compiled
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
        for _ in range(len(takers)):
            for row in takers:
                if rows.slot[row, s] == k:
                    k += 1
        k = min(k, len(days) - 1)
        rows.slot[node.slot_row, s] = k
        opens = opening(clocks, c, float(days[k]) * PER_DAY)
        rows.start[n, s] = max(opens, ready)


@compiled
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


@compiled
def with_hands(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    here: Picked,
) -> None:
    """Write when a person is done who puts it down for more pressing work."""
    node = nodes.node[n]
    p, work = node.lead, node.work_first
    c = nodes.hold[node.hold_first].clock
    for i in here:
        chunk.begin[i] = worked(clocks, c, rows.start[n, first + i])
        chunk.end[i] = chunk.begin[i] + rows.amounts[work, first + i]
    fit(chunk, p, here)
    always = clocks.clock[c].always
    for i in here:
        done = rows.start[n, first + i]
        if always:
            done += chunk.end[i] - chunk.begin[i]
        elif chunk.end[i] - chunk.begin[i] > TINY:
            done = max(done, reach(clocks, c, chunk.end[i]))
        rows.finish[n, first + i] = done


@compiled
def work(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    n: int,
    w: int,
    first: int,
    here: Picked,
) -> None:
    """Move a node's finish to when one of its jobs is done."""
    c, kind = nodes.work[w].clock, nodes.work[w].kind
    for i in here:
        s = first + i
        done = rows.start[n, s]
        if kind == PROMISED:
            done = rows.amounts[w, s]
        elif kind == DAYS:
            done = add_days(clocks, c, done, rows.amounts[w, s])
        elif kind == HOURS:
            done = add(clocks, c, done, rows.amounts[w, s])
        rows.finish[n, s] = max(rows.finish[n, s], done)


@compiled
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
        with_hands(clocks, nodes, rows, chunk, n, first, here)
        if node.lead_only:
            return
    else:
        for i in here:
            rows.finish[n, first + i] = rows.start[n, first + i]
    for w in range(node.work_first, node.work_last):
        work(clocks, nodes, rows, n, w, first, here)


@compiled
def make_room(
    nodes: NodeArrays,
    rows: Times,
    n: int,
    group: int,
    first: int,
    here: Picked,
    moved: Picked,
) -> int:
    """Move a node's start past every stay of a group it meets; return how many did."""
    count = 0
    stays = nodes.lists[nodes.group[group].first : nodes.group[group].last]
    for i in here:
        s = first + i
        start, end = rows.start[n, s], rows.finish[n, s]
        if end <= start:
            continue
        for other in stays:
            began, ended = rows.start[other, s], rows.finish[other, s]
            if began < end - MEETS and ended > start + MEETS and end > start:
                start = ended
        if start != rows.start[n, s]:
            rows.start[n, s] = start
            moved[count] = i
            count += 1
    return count


@compiled
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
    chunk.here[:count] = chunk.every[:count]
    for _ in range(TRIES):
        chunk.again[:] = 0
        for group in range(nodes.node[n].group_first, nodes.node[n].group_last):
            here = chunk.here[:count]
            more = make_room(nodes, rows, n, group, first, here, chunk.moved)
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


@compiled
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


@compiled
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
    for h in range(nodes.node[n].hold_first, nodes.node[n].hold_last):
        p, c = nodes.hold[h].person, nodes.hold[h].clock
        for i in range(last - first):
            chunk.begin[i] = worked(clocks, c, rows.start[n, first + i])
            chunk.end[i] = worked(clocks, c, rows.finish[n, first + i])
        take(chunk, p, last - first)


@compiled
def book_at_once(nodes: NodeArrays, chunk: Chunk, n: int, size: int) -> bool:
    """Give away the hours just worked out, where they are all there is to it."""
    node = nodes.node[n]
    if not node.lead_only or node.lead < 0 or node.hold_last - node.hold_first > 1:
        return False
    for arc in range(node.arc_first, node.arc_last):
        if nodes.arc[arc].kind == BY:
            return False
    take(chunk, node.lead, size)
    return True
