"""Evolves orders of jobs on calendars: dense stretches kept, jobs pulled forward.

Each plan kept is known by the starts of its jobs, which are also the keys to make it
again. A child takes the order inside one stretch of time from its father and the order
before and after it from its mother (after Valls, Ballestín & Quintanilla 2008, EJOR
185:495-508, from memory). It replaces its father if it is no worse.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from scheduling.compiled import bare
from scheduling.search.arrays import Booked, Floats, Ints, Placed, Problem
from scheduling.search.booking import room_for
from scheduling.search.costs import change, late_and_soon
from scheduling.search.decoder import decode
from scheduling.search.randoms import below, share, stream

APART = 1e7  # keys before and after the father's stretch, in quarters
PULLED = 2  # one child in so many has a job pulled forward
SHAKE = 2 * 672.0  # first orders differ by a few weeks
MIXED = 2305843009213693951  # a Mersenne prime, for fingerprints


class Family(NamedTuple):
    """The plans kept: keys, starts, cost and fingerprint of each; and scratch space."""

    key: Floats
    start: Floats
    cost: Ints
    mark: Ints
    tally: Ints  # how many are kept; how many were tried
    state: Ints
    child: Floats
    price: Ints  # of the child
    placed: Placed
    booked: Booked


def family_of(problem: Problem, keys: Floats, size: int, seed: int) -> Family:
    """Return a family with the first keys to try, none of them made yet."""
    placed, booked = room_for(problem)
    key = np.zeros((size, problem.nodes))
    for row in range(size):
        key[row] = keys[row % len(keys)]
    return Family(
        key,
        np.zeros((size, problem.nodes)),
        np.zeros((size, 3), dtype=np.int64),
        np.zeros(size, dtype=np.int64),
        np.array([0, len(keys)], dtype=np.int64),
        stream(seed),
        np.zeros(problem.nodes),
        np.zeros(3, dtype=np.int64),
        placed,
        booked,
    )


@bare
def better(one: Ints, other: Ints) -> bool:
    """Return whether one cost is less than the other, part by part."""
    for k in range(3):
        if one[k] != other[k]:
            return bool(one[k] < other[k])
    return False


@bare
def evolve(p: Problem, f: Family, schedules: int, bound: Ints) -> int:
    """Make up to `schedules` plans, fewer if the bound is met; return how many."""
    cost = f.price
    for made in range(schedules):
        father = f.tally[0]
        if father < len(f.key):
            for n in range(p.nodes):
                f.child[n] = f.key[father, n]
            if father >= f.tally[1]:
                shake(f)
            f.tally[0] += 1
        else:
            father = fitter(f)
            cross(p, f, father, fitter(f))
            if below(f.state, PULLED) == 0:
                pull(p, f)
        decode(p, f.child, f.placed, f.booked)
        cost[0], cost[1] = late_and_soon(p, f.placed.finish)
        cost[2] = change(p, f.placed.start, f.placed.team)
        keep(f, father, cost)
        if not better(bound, cost):
            return made + 1
    return schedules


@bare
def shake(f: Family) -> None:
    """Move every key by some days, near the middle most often."""
    for n in range(len(f.child)):
        f.child[n] += SHAKE * (share(f.state) + share(f.state) - 1.0)


@bare
def fitter(f: Family) -> int:
    """Return the better of two plans picked at random."""
    one, other = below(f.state, len(f.key)), below(f.state, len(f.key))
    return other if better(f.cost[other], f.cost[one]) else one


@bare
def cross(p: Problem, f: Family, father: int, mother: int) -> None:
    """Mix two plans: the father's order inside a stretch of time, else the mother's."""
    first, last = f.start[father, 0], f.start[father, 0]
    for n in range(p.nodes):
        first, last = min(first, f.start[father, n]), max(last, f.start[father, n])
    length = (last - first) * (0.1 + 0.6 * share(f.state))
    opens = first - length + (last - first + length) * share(f.state)
    for n in range(p.nodes):
        start = f.start[father, n]
        if start < opens:
            f.child[n] = f.start[mother, n] - APART
        elif start > opens + length:
            f.child[n] = f.start[mother, n] + APART
        else:
            f.child[n] = start


@bare
def pull(p: Problem, f: Family) -> None:
    """Put one job, with all it waits for, before another picked at random."""
    n, other = below(f.state, p.nodes), below(f.state, p.nodes)
    if f.child[n] < f.child[other]:
        n, other = other, n
    f.child[n] = f.child[other] - 0.5
    for later in range(n, -1, -1):  # nodes are in topological order
        for a in range(p.task[later].arc_from, p.task[later + 1].arc_from):
            before = p.arc[a].before
            if later == n or f.child[later] <= f.child[n]:
                f.child[before] = min(f.child[before], f.child[later])


@bare
def keep(f: Family, at: int, cost: Ints) -> None:
    """Keep the plan just made at a place, unless it is worse or known already."""
    mark = 0
    for n in range(len(f.child)):
        mark = (mark * 31 + int(4.0 * f.placed.start[n])) % MIXED
    made = f.mark[at] != 0
    if made and better(f.cost[at], cost):
        return
    for row in range(f.tally[0]):
        if f.mark[row] == mark and row != at:
            if made:
                return
            mark += 1  # the first plans may be alike; a place is never left empty
    f.mark[at] = mark
    for n in range(len(f.child)):
        f.key[at, n], f.start[at, n] = f.child[n], f.placed.start[n]
    for k in range(len(cost)):
        f.cost[at, k] = cost[k]
