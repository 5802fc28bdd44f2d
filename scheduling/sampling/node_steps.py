"""The simulation's inner loops: one node in one chunk of samples, for compiling.

A chunk is small enough for the processor's cache. Arrays are nodes x samples, of
which a chunk is the columns first..last; `rows` does the same without compiling.

`choose` and `by_hand` look through a person's blocks alike on purpose: with one
function for it all samples took a quarter longer, and twice as long if it was called.
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


CHUNK = 256


class Chunk(NamedTuple):
    """One chunk's columns, and room to work in.

    `starts[p, k, i]` and `ends[p, k, i]` hold the busy blocks k below `blocks[p, i]` of
    one person in sample `first + i`, apart and in order of time, in that person's
    working quarters. `begin` and `end` are the hours a node takes, `low` and `high`
    between which blocks.
    """

    starts: NDArray[np.float64]
    ends: NDArray[np.float64]
    blocks: NDArray[np.int32]
    begin: Floats
    end: Floats
    low: Picked
    high: Picked
    asked: Floats
    late: Floats
    every: Picked
    here: Picked
    moved: Picked
    again: Picked


def blank_chunk(people: int, blocks: int) -> Chunk:
    """Return room for one chunk."""
    begin, end, asked, late = np.empty((4, CHUNK))
    low, high, here, moved, again = np.empty((5, CHUNK), np.int64)
    starts, ends = np.empty((2, people, blocks, CHUNK))
    return Chunk(
        starts,
        ends,
        np.zeros((people, CHUNK), np.int32),
        begin,
        end,
        low,
        high,
        asked,
        late,
        np.arange(CHUNK),
        here,
        moved,
        again,
    )


@compiled
def give(
    chunk: Chunk, p: int, i: int, begin: float, end: float, low: int, high: int
) -> None:
    """Give begin..end away; blocks low..high, and those it touches, become part."""
    starts, ends, count = chunk.starts, chunk.ends, chunk.blocks[p, i]
    if low > 0 and ends[p, low - 1, i] >= begin:
        low -= 1
    if high < count and starts[p, high, i] <= end:
        high += 1
    if high > low:
        begin = min(begin, starts[p, low, i])
        end = max(end, ends[p, high - 1, i])
    shift = low + 1 - high
    if shift == 1:
        for at in range(count, low, -1):
            starts[p, at, i] = starts[p, at - 1, i]
            ends[p, at, i] = ends[p, at - 1, i]
    elif shift < 0:
        for at in range(high, count):
            starts[p, at + shift, i] = starts[p, at, i]
            ends[p, at + shift, i] = ends[p, at, i]
    starts[p, low, i], ends[p, low, i] = begin, end
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
    asked = chunk.asked[:size]
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
def choose(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    here: Picked,
) -> None:
    """Write who would be through with a node first if it took its usual length."""
    node = nodes.node[n]
    soonest = chunk.asked
    for at in range(node.choice_last - node.choice_first):
        one = nodes.choice[node.choice_first + at]
        p, usual, c = one.person, node.usual * one.pace, nodes.own[one.person]
        for i in here:
            start = rows.start[n, first + i]
            begin = worked(clocks, c, start)
            end, k = begin + usual, chunk.blocks[p, i]
            while k > 0 and chunk.ends[p, k - 1, i] > begin:
                k -= 1
            while k < chunk.blocks[p, i] and chunk.starts[p, k, i] < end:
                end += chunk.ends[p, k, i] - max(chunk.starts[p, k, i], begin)
                k += 1
            if clocks.clock[c].always:
                done = start + (end - begin)
            else:
                done = max(start, reach(clocks, c, end))
            if at == 0 or done < soonest[i] - TINY:
                soonest[i], rows.who[n, first + i] = done, at


@compiled
def by_hand(
    clocks: ClockArrays,
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    first: int,
    here: Picked,
) -> None:
    """Write when the person chosen is done, who puts it down for every busy block."""
    node = nodes.node[n]
    starts, ends = chunk.starts, chunk.ends
    for i in here:
        s = first + i
        one = nodes.choice[node.choice_first + rows.who[n, s]]
        p, c, done = one.person, nodes.own[one.person], rows.start[n, s]
        begin = worked(clocks, c, done)
        length = rows.amounts[node.work_first, s] * one.pace
        end, count = begin + length, chunk.blocks[p, i]
        low = count
        while low > 0 and ends[p, low - 1, i] > begin:
            low -= 1
        high = low
        while high < count and starts[p, high, i] < end:
            end += ends[p, high, i] - max(starts[p, high, i], begin)
            high += 1
        if clocks.clock[c].always:
            done += end - begin
        elif end - begin > TINY:
            done = max(done, reach(clocks, c, end))
        rows.finish[n, s] = done
        chunk.begin[i], chunk.end[i] = begin, end
        chunk.low[i], chunk.high[i] = low, high


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
        if node.choice_last - node.choice_first > 1:
            choose(clocks, nodes, rows, chunk, n, first, here)
        by_hand(clocks, nodes, rows, chunk, n, first, here)
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
    chunk: Chunk,
    n: int,
    group: int,
    first: int,
    count: int,
) -> int:
    """Move a node's start past every stay of a group it meets; return how many did.

    Of the samples `chunk.here[:count]`; those that moved are written to `chunk.moved`.
    """
    begin, here, more = chunk.asked, chunk.here, 0
    for i in here[:count]:
        begin[i] = rows.start[n, first + i]
    for at in range(nodes.group[group].first, nodes.group[group].last):
        other, theirs = nodes.use[at].node, nodes.use[at].theirs
        for i in here[:count]:
            s = first + i
            end, ended = rows.finish[n, s], rows.finish[other, s]
            met = rows.start[other, s] < end - MEETS and ended > begin[i] + MEETS
            if met and end > begin[i] and (theirs < 0 or theirs == rows.who[other, s]):
                begin[i] = ended
    for i in here[:count]:
        if begin[i] != rows.start[n, first + i]:
            rows.start[n, first + i] = begin[i]
            chunk.moved[more] = i
            more += 1
    return more


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
            more = make_room(nodes, rows, chunk, n, group, first, count)
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
    node = nodes.node[n]
    for h in range(node.hold_first, node.hold_last):
        chosen = h == node.hold_first and node.choice_last - node.choice_first > 1
        p = nodes.hold[h].person
        for i in range(last - first):
            if chosen:
                p = nodes.choice[node.choice_first + rows.who[n, first + i]].person
            begin = worked(clocks, nodes.own[p], rows.start[n, first + i])
            end = worked(clocks, nodes.own[p], rows.finish[n, first + i])
            low = chunk.blocks[p, i]
            while low > 0 and chunk.ends[p, low - 1, i] > begin:
                low -= 1
            high = low
            while high < chunk.blocks[p, i] and chunk.starts[p, high, i] < end:
                high += 1
            give(chunk, p, i, begin, end, low, high)


@compiled
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
    for i in range(last - first):
        p = nodes.choice[node.choice_first + rows.who[n, first + i]].person
        give(chunk, p, i, chunk.begin[i], chunk.end[i], chunk.low[i], chunk.high[i])
    return True
