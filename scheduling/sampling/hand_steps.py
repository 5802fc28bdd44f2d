"""Whose hours a node takes, and when they are through with it, for compiling."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import apart, bare
from scheduling.sampling.chunk import Chunk
from scheduling.sampling.clock_arrays import ClockArrays
from scheduling.sampling.clock_steps import through_each, worked_each
from scheduling.sampling.node_records import NodeArrays
from scheduling.sampling.times import Times
from scheduling.timeline import TINY

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]
Picked = NDArray[np.int64]

AT_ONCE = 8  # blocks before one looks whether any more can matter


@bare
def is_whole(here: Picked) -> bool:
    """Return whether the samples picked are the first of the chunk, none left out."""
    return bool(here[len(here) - 1] == len(here) - 1)


@apart
def pick(row: Floats, here: Picked, picked: Floats) -> None:
    """Write the picked samples of a row side by side."""
    for i in range(len(here)):
        picked[i] = row[here[i]]


@apart
def put(row: Floats, into: Floats) -> None:
    """Write a row over the first numbers of another."""
    for i in range(len(row)):
        into[i] = row[i]


@apart
def keep_all(
    kept: Floats,
    who: Ints,
    finish: Floats,
    chosen: Ints,
    begin: Floats,
    end: Floats,
    low: Ints,
    high: Ints,
) -> None:
    """Write what is kept of every sample of the chunk, none left out."""
    for i in range(len(who)):
        chosen[i], finish[i] = who[i], kept[2, i]
        begin[i], end[i] = kept[0, i], kept[1, i]
        low[i], high[i] = np.int32(kept[3, i]), np.int32(kept[4, i])


@apart
def is_going(ends: Floats, begin: Floats) -> bool:
    """Return whether a block is not over before work begins, in any sample."""
    going = 0
    for i in range(len(begin)):
        going += ends[i] > begin[i]
    return going > 0


@apart
def is_going_in(ends: Floats, here: Picked, begin: Floats) -> bool:
    """Return whether a block is not over before work begins, in any picked sample."""
    going = 0
    for i in range(len(begin)):
        going += ends[here[i]] > begin[i]
    return going > 0


@bare
def count_over(ends: Floats, most: int, here: Picked, begin: Floats) -> int:
    """Return how many first blocks are over before work begins, in every sample."""
    low, high, whole = 0, most, is_whole(here)
    while low < high:
        k = (low + high) // 2
        row = ends[k]
        if is_going(row, begin) if whole else is_going_in(row, here, begin):
            high = k
        else:
            low = k + 1
    return low


@apart
def is_past(starts: Floats, end: Floats) -> bool:
    """Return whether work is done before a block begins, in every sample."""
    near = 0
    for i in range(len(end)):
        near += starts[i] < end[i]
    return near == 0


@apart
def put_off(
    starts: Floats, ends: Floats, over: int, most: int, begin: Floats, end: Floats
) -> None:
    """Move the end of work, block by block, past all hours given away before it.

    The first blocks, `over` of them, are over before it begins.
    """
    for k in range(over, most):
        if (k - over) % AT_ONCE == AT_ONCE - 1 and is_past(starts[k], end):
            return
        for i in range(len(end)):
            lost = ends[k, i] - max(starts[k, i], begin[i])
            before = starts[k, i] < end[i]
            end[i] = end[i] + lost if before & (ends[k, i] > begin[i]) else end[i]


@apart
def put_down(
    starts: Floats,
    ends: Floats,
    over: int,
    most: int,
    begin: Floats,
    end: Floats,
    low: Floats,
    high: Floats,
) -> None:
    """Do as `put_off`, and write which blocks those are: from `low`, below `high`."""
    for i in range(len(end)):
        low[i], high[i] = over, over
    for k in range(over, most):
        if (k - over) % AT_ONCE == AT_ONCE - 1 and is_past(starts[k], end):
            return
        for i in range(len(end)):
            lost = ends[k, i] - max(starts[k, i], begin[i])
            before = starts[k, i] < end[i]
            low[i] = low[i] + 1.0 if ends[k, i] <= begin[i] else low[i]
            high[i] = high[i] + 1.0 if before else high[i]
            end[i] = end[i] + lost if before & (ends[k, i] > begin[i]) else end[i]


@apart
def prefer(
    at: int,
    usual: Floats,
    soonest: Floats,
    offer: Floats,
    kept: Floats,
    who: Ints,
) -> None:
    """Keep what one person offers where that person would be through first.

    `offer` and `kept` are rows of begin, end, the blocks between, and when it is done.
    """
    for i in range(len(usual)):
        better = (at == 0) | (usual[i] < soonest[i] - TINY)
        soonest[i] = usual[i] if better else soonest[i]
        who[i] = at if better else who[i]
        for row in range(len(kept)):
            kept[row, i] = offer[row, i] if better else kept[row, i]


@bare
def pack(chunk: Chunk, p: int, over: int, here: Picked) -> None:
    """Write one person's blocks in the picked samples side by side, all but a few."""
    for k in range(over, chunk.most[p]):
        pick(chunk.starts[p, k], here, chunk.some_starts[k])
        pick(chunk.ends[p, k], here, chunk.some_ends[k])


@bare
def by_hand(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    here: Picked,
) -> None:
    """Write who does a node, who puts it down for every busy block, and when."""
    node, m = nodes.node[n], len(here)
    several, whole = node.choice_last - node.choice_first > 1, is_whole(here)
    w = node.work_first
    start, amount = rows.start[n, first : first + m], rows.amounts[w, first : first + m]
    if not whole:
        start, amount = chunk.start[:m], chunk.amount[:m]
        pick(rows.start[n, first:], here, start)
        pick(rows.amounts[w, first:], here, amount)
    usual, who, kept = chunk.usual[:m], chunk.who[:m], chunk.kept
    offer = chunk.offer if several else kept
    begin, end, done = offer[0, :m], offer[1, :m], offer[2, :m]
    low, high = offer[3, :m], offer[4, :m]
    who[:] = 0
    for at in range(node.choice_last - node.choice_first):
        one = nodes.choice[node.choice_first + at]
        p, c, most = one.person, nodes.own[one.person], chunk.most[one.person]
        starts, ends = chunk.starts[p], chunk.ends[p]
        if at == 0 or c != nodes.own[nodes.choice[node.choice_first + at - 1].person]:
            worked_each(clocks, c, start, begin)
        over = count_over(ends, most, here, begin)
        if not whole:
            pack(chunk, p, over, here)
            starts, ends = chunk.some_starts, chunk.some_ends
        if several:
            for i in range(m):
                end[i] = begin[i] + node.usual * one.pace
            put_off(starts, ends, over, most, begin, end)
            through_each(clocks, c, start, begin, end, usual)
        for i in range(m):
            end[i] = begin[i] + amount[i] * one.pace
        put_down(starts, ends, over, most, begin, end, low, high)
        through_each(clocks, c, start, begin, end, done)
        if several:
            prefer(at, usual, chunk.soonest[:m], offer[:, :m], kept[:, :m], who)
    if whole:
        keep_all(
            kept,
            who,
            rows.finish[n, first:],
            rows.who[n, first:],
            chunk.begin,
            chunk.end,
            chunk.low,
            chunk.high,
        )
        return
    for at in range(m):
        i = here[at]
        rows.who[n, first + i] = who[at]
        rows.finish[n, first + i] = kept[2, at]
        chunk.begin[i], chunk.end[i] = kept[0, at], kept[1, at]
        chunk.low[i], chunk.high[i] = kept[3, at], kept[4, at]
