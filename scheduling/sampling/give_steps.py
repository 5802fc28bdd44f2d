"""A person's hours given away, sample by sample, for compiling.

A call hands over every array of a record one by one, which takes longer than one
sample's work: these loops are inside what is called, and get only what they need.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import bare, inlined

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]


@inlined
def give(
    starts: Floats,
    ends: Floats,
    counts: Ints,
    most: int,
    i: int,
    begin: float,
    end: float,
    low: int,
    high: int,
) -> int:
    """Give begin..end away; blocks low..high, and those it touches, become part.

    Return the most blocks of any sample: by one more, if this one has as many.
    """
    count = counts[i]
    if low > 0 and ends[low - 1, i] >= begin:
        low -= 1
    if high < count and starts[high, i] <= end:
        high += 1
    if high > low:
        begin = min(begin, starts[low, i])
        end = max(end, ends[high - 1, i])
    shift = low + 1 - high
    if shift == 1:
        if count == most:
            starts[most], ends[most] = np.inf, np.inf
            most += 1
        for at in range(count, low, -1):
            starts[at, i] = starts[at - 1, i]
            ends[at, i] = ends[at - 1, i]
    elif shift < 0:
        for at in range(high, count):
            starts[at + shift, i] = starts[at, i]
            ends[at + shift, i] = ends[at, i]
        for at in range(count + shift, count):
            starts[at, i], ends[at, i] = np.inf, np.inf
    starts[low, i], ends[low, i] = begin, end
    counts[i] = count + shift
    return most


@bare
def give_each(
    starts: Floats,
    ends: Floats,
    counts: Ints,
    most: int,
    begin: Floats,
    end: Floats,
    low: Ints,
    high: Ints,
    who: Ints,
    at: int,
) -> int:
    """Give one person's hours away in the samples whose choice they are.

    Return the most blocks any sample then has.
    """
    for i in range(len(begin)):
        if who[i] == at:
            most = give(
                starts,
                ends,
                counts,
                most,
                i,
                begin[i],
                end[i],
                low[i],
                high[i],
            )
    return most


@bare
def give_unseen(
    starts: Floats,
    ends: Floats,
    counts: Ints,
    most: int,
    begin: Floats,
    end: Floats,
    who: Ints,
    at: int,
) -> int:
    """As `give_each`; which blocks the hours meet is looked up."""
    for i in range(len(begin)):
        if who[i] == at:
            low = counts[i]
            while low > 0 and ends[low - 1, i] > begin[i]:
                low -= 1
            high = low
            while high < counts[i] and starts[high, i] < end[i]:
                high += 1
            most = give(starts, ends, counts, most, i, begin[i], end[i], low, high)
    return most
