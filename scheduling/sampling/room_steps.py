"""A node moved until its places and second people are free, for compiling."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import apart, bare
from scheduling.sampling.chunk import Chunk, least, most
from scheduling.sampling.hand_steps import is_whole, pick
from scheduling.sampling.node_records import NodeArrays
from scheduling.sampling.times import Times

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]
Picked = NDArray[np.int64]

MEETS = 1e-6


@apart
def pass_by(
    begin: Floats, end: Floats, began: Floats, ended: Floats, who: Ints, theirs: int
) -> None:
    """Move a start to the end of another node's stay, where it meets that."""
    for i in range(len(begin)):
        met = (began[i] < end[i] - MEETS) & (ended[i] > begin[i] + MEETS)
        met = met & (end[i] > begin[i]) & ((theirs < 0) | (who[i] == theirs))
        begin[i] = ended[i] if met else begin[i]


@bare
def make_room(
    nodes: NodeArrays,
    rows: Times,
    chunk: Chunk,
    n: int,
    group: int,
    first: int,
    here: Picked,
) -> int:
    """Move a node's start past every stay of a group it meets; return how many did.

    Of the samples `here`; those that moved are written to `chunk.moved`.
    """
    m, more, whole = len(here), 0, is_whole(here)
    begin, end = chunk.start[:m], rows.finish[n, first : first + m]
    pick(rows.start[n, first:], here, begin)
    if not whole:
        end = chunk.usual[:m]
        pick(rows.finish[n, first:], here, end)
    begins, ends = least(begin), most(end)
    for at in range(nodes.group[group].first, nodes.group[group].last):
        other, theirs = nodes.use[at].node, nodes.use[at].theirs
        if chunk.last_finish[other] <= begins or chunk.first_start[other] >= ends:
            continue
        began = rows.start[other, first : first + m]
        ended = rows.finish[other, first : first + m]
        who = rows.who[other, first : first + m]
        if not whole:
            began, ended, who = chunk.amount[:m], chunk.reached[:m], chunk.who[:m]
            pick(rows.start[other, first:], here, began)
            pick(rows.finish[other, first:], here, ended)
            for i in range(m):
                who[i] = rows.who[other, first + here[i]]
        pass_by(begin, end, began, ended, who, theirs)
    for at in range(m):
        s = first + here[at]
        if begin[at] != rows.start[n, s]:
            rows.start[n, s] = begin[at]
            chunk.moved[more] = here[at]
            more += 1
    return more
