"""Plain problems: no hours, no hands, only lengths, links and units of places.

Most textbook and published instances are like that. Free units are kept per step of
time, up to four places in one number: each has fifteen bits of it, the topmost of
them a guard that falls when more is taken than there is.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from scheduling.network import Network
from scheduling.search.arrays import (
    AFTER,
    AT_ONCE,
    IN_SLOT,
    QUARTERS,
    Ints,
    Problem,
    begins,
)

BITS = 15
LANES = 4
ROOM_AT_MOST = 2 ** (BITS - 1) - 1
GUARD = sum(1 << (BITS * lane + BITS - 1) for lane in range(LANES))
STEPS_AT_MOST = 200_000


class Plain(NamedTuple):
    """A plain problem; lengths and waits in steps of `unit` quarters."""

    nodes: int
    unit: int
    steps: int  # more than any plan can take
    length: Ints
    need: Ints  # one row per node, one column per four places
    room: Ints  # as `need`, guards up
    before_from: Ints
    before: Ints
    before_wait: Ints
    after_from: Ints
    after: Ints
    after_wait: Ints
    tail: Ints  # longest way from the start of each node to the end
    head: Ints  # longest way from the beginning to the finish of each node
    weight: Ints  # how much of the places each node takes, for finding dense stretches


def plain_of(network: Network, problem: Problem) -> Plain | None:
    """Return a problem in plain terms, or None if it is not a plain one."""
    if not _one_aim(problem) or not _no_hours(network, problem):
        return None
    lengths = [_length(problem, n) for n in range(problem.nodes)]
    waits = _waits(problem)
    if waits is None or None in lengths:
        return None
    sizes = [*(value for value in lengths if value is not None), *waits]
    unit = math.gcd(*sizes) or 1
    length = np.array(sizes[: problem.nodes], dtype=np.int64) // unit
    wait = np.array(sizes[problem.nodes :], dtype=np.int64) // unit
    steps = int(length.sum() + wait.sum() + length.max(initial=0)) + 2
    if steps > STEPS_AT_MOST or max(problem.capacity, default=0) > ROOM_AT_MOST:
        return None
    return _made(problem, length, wait, unit, steps)


def _one_aim(problem: Problem) -> bool:
    """Return whether all that counts is the end of the whole."""
    ends = {int(n) for n in problem.end}
    lasts = {
        n
        for n in range(problem.nodes)
        if problem.task[n].after_from == problem.task[n + 1].after_from
    }
    one = len(problem.wish) == 2 and problem.dated == 0
    return one and not len(problem.old) - 1 and ends == lasts


def _no_hours(network: Network, problem: Problem) -> bool:
    task = problem.task[:-1]
    clocks = [one.clock for node in network.nodes for one in node.works]
    return (
        not task.begun.any()
        and not (task.by_hands != 0).any()
        and not (task.how == IN_SLOT).any()
        and bool((task.release == problem.now).all())
        and all(clock.always for clock in set(clocks))
    )


def _length(problem: Problem, n: int) -> int | None:
    found = 0
    for w in range(problem.task[n].work_from, problem.task[n + 1].work_from):
        if problem.work[w].kind != QUARTERS:
            return None
        found = max(found, math.ceil(problem.work[w].length - 1e-6))
    return 0 if problem.task[n].how == AT_ONCE else found


def _waits(problem: Problem) -> list[int] | None:
    """Return the wait of every link, or None if one is not of whole quarters."""
    arc = problem.arc[:-1]
    odd = (arc.kind != AFTER) | (arc.days != 0) | (arc.wait < 0) | (arc.wait % 1 != 0)
    return None if odd.any() else [int(wait) for wait in arc.wait.tolist()]


def _made(problem: Problem, length: Ints, wait: Ints, unit: int, steps: int) -> Plain:
    count, places = problem.nodes, len(problem.capacity)
    words = max(-(-places // LANES), 1)
    need = np.zeros((count, words), dtype=np.int64)
    room = np.full(words, GUARD, dtype=np.int64)
    weight = np.zeros(count, dtype=np.int64)
    for place, units in enumerate(problem.capacity):
        room[place // LANES] += int(units) << (BITS * (place % LANES))
    for n in range(count):
        if length[n]:
            for u in range(problem.task[n].use_from, problem.task[n + 1].use_from):
                place, units = int(problem.use[u].place), int(problem.use[u].units)
                need[n, place // LANES] += units << (BITS * (place % LANES))
                weight[n] += 1000 * units // int(problem.capacity[place])
    later: list[list[tuple[int, int]]] = [[] for _ in range(count)]
    arc_from = problem.task.arc_from.tolist()
    links = list(zip(problem.arc.before.tolist(), wait.tolist(), strict=False))
    for n in range(count):
        for before, lag in links[arc_from[n] : arc_from[n + 1]]:
            later[before].append((n, lag))
    return Plain(
        count,
        unit,
        steps,
        length,
        need,
        room,
        problem.task.arc_from.copy(),
        problem.arc.before[:-1].copy(),
        wait,
        *_links(later),
        *_ways(length, later),
        weight,
    )


def _ways(
    length: Ints, later: Sequence[Sequence[tuple[int, int]]]
) -> tuple[Ints, Ints]:
    """Return the longest ways from each start to the end, and to each finish."""
    tail, head = length.copy(), length.copy()
    for n in range(len(length) - 1, -1, -1):
        tail[n] += max((tail[m] + lag for m, lag in later[n]), default=0)
    for n in range(len(length)):
        for m, lag in later[n]:
            head[m] = max(head[m], head[n] + lag + length[m])
    return tail, head


def _links(later: Sequence[Sequence[tuple[int, int]]]) -> tuple[Ints, Ints, Ints]:
    flat = [pair for found in later for pair in found]
    return (
        np.array(begins([len(found) for found in later]), dtype=np.int64),
        np.array([number for number, _ in flat], dtype=np.int64),
        np.array([lag for _, lag in flat], dtype=np.int64),
    )
