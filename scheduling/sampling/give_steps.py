"""A person's hours given away in one sample, for compiling."""

from __future__ import annotations

import numpy as np

from scheduling.compiled import bare
from scheduling.sampling.chunk import Chunk


@bare
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
        if count == chunk.most[p]:
            one_more(chunk, p)
        for at in range(count, low, -1):
            starts[p, at, i] = starts[p, at - 1, i]
            ends[p, at, i] = ends[p, at - 1, i]
    elif shift < 0:
        for at in range(high, count):
            starts[p, at + shift, i] = starts[p, at, i]
            ends[p, at + shift, i] = ends[p, at, i]
        for at in range(count + shift, count):
            starts[p, at, i], ends[p, at, i] = np.inf, np.inf
    starts[p, low, i], ends[p, low, i] = begin, end
    chunk.blocks[p, i] = count + shift


@bare
def one_more(chunk: Chunk, p: int) -> None:
    """Let some sample have one block more than any had."""
    k = chunk.most[p]
    chunk.starts[p, k], chunk.ends[p, k] = np.inf, np.inf
    chunk.most[p] = k + 1


@bare
def give_unseen(chunk: Chunk, p: int, i: int, begin: float, end: float) -> None:
    """Give begin..end away; which blocks it meets is looked up."""
    low = chunk.blocks[p, i]
    while low > 0 and chunk.ends[p, low - 1, i] > begin:
        low -= 1
    high = low
    while high < chunk.blocks[p, i] and chunk.starts[p, high, i] < end:
        high += 1
    give(chunk, p, i, begin, end, low, high)
