"""Room for one chunk of samples: small enough for the processor's cache."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import bare

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]
Picked = NDArray[np.int64]  # samples of a chunk, counted from its first

CHUNK = 256
LINE = 8  # more than a row needs, so that blocks of one sample share no cache set


class Chunk(NamedTuple):
    """One chunk's columns, and room to work in.

    `starts[p, k, i]` and `ends[p, k, i]` hold the busy blocks k below `blocks[p, i]` of
    one person in sample `first + i`, apart and in order of time, in that person's
    working quarters; up to `most[p]`, the most of any sample, the others are infinitely
    far away. `begin` and `end` are the hours a node takes of whoever does it, `low` and
    `high` between which blocks.

    The rest is for some samples of the chunk, side by side: `some_starts` and
    `some_ends` are blocks of one person; `offer` and `kept` begin, end, when it is
    done, low and high of one who could do a node and of the one chosen. `on` marks, per
    node, the samples in which it sets some date. `first_start` and `last_finish` are,
    per node, those of all samples of the chunk.
    """

    starts: Floats
    ends: Floats
    blocks: Ints
    most: Ints
    begin: Floats
    end: Floats
    low: Ints
    high: Ints
    late: Floats
    every: Picked
    here: Picked
    moved: Picked
    again: Picked
    some_starts: Floats
    some_ends: Floats
    start: Floats
    amount: Floats
    reached: Floats
    usual: Floats
    soonest: Floats
    offer: Floats
    kept: Floats
    who: Ints
    on: Floats
    first_start: Floats
    last_finish: Floats


def blank_chunk(nodes: int, people: int, blocks: int) -> Chunk:
    """Return room for one chunk."""
    begin, end, late, start, amount, reached, usual, soonest = np.empty((8, CHUNK))
    offer, kept = np.empty((2, 5, CHUNK))
    every = np.arange(CHUNK)
    here, moved, again = np.empty((3, CHUNK), np.int64)
    starts, ends = np.empty((2, people, blocks, CHUNK + LINE))
    some_starts, some_ends = np.empty((2, blocks, CHUNK))
    counts, most = np.zeros((people, CHUNK), np.int32), np.zeros(people, np.int32)
    who, low, high = np.empty((3, CHUNK), np.int32)
    on = np.empty((nodes, CHUNK))
    first_start, last_finish = np.empty((2, nodes))
    return Chunk(
        starts,
        ends,
        counts,
        most,
        begin,
        end,
        low,
        high,
        late,
        every,
        here,
        moved,
        again,
        some_starts,
        some_ends,
        start,
        amount,
        reached,
        usual,
        soonest,
        offer,
        kept,
        who,
        on,
        first_start,
        last_finish,
    )


@bare
def least(row: Floats) -> float:
    """Return the smallest number of a row, four apart that do not wait for another."""
    one = two = three = four = np.inf
    rest = len(row) % 4
    for i in range(rest, len(row), 4):
        one, two = min(row[i], one), min(row[i + 1], two)
        three, four = min(row[i + 2], three), min(row[i + 3], four)
    for i in range(rest):
        one = min(row[i], one)
    return min(min(one, two), min(three, four))


@bare
def most(row: Floats) -> float:
    """Return the largest number of a row, as `least` does the smallest."""
    one = two = three = four = -np.inf
    rest = len(row) % 4
    for i in range(rest, len(row), 4):
        one, two = max(row[i], one), max(row[i + 1], two)
        three, four = max(row[i + 2], three), max(row[i + 3], four)
    for i in range(rest):
        one = max(row[i], one)
    return max(max(one, two), max(three, four))
