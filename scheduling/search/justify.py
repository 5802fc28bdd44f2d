"""Evolves plans for plain problems, each pushed to the right and back to the left.

A child takes its father's dense stretch, and its mother's order before and after it
(peak crossover: Valls, Ballestín & Quintanilla 2008, EJOR 185:495-508), is made
backward from the end and then forward again (double justification: Valls et al. 2005,
EJOR 165:375-386), and replaces the parent it is more like, if it is no longer
(both from memory). When nothing has got better for long, all but the record is new.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from scheduling.compiled import compiled
from scheduling.search.arrays import Ints
from scheduling.search.plain import Plain
from scheduling.search.profile import in_order, parallel, serial
from scheduling.search.randoms import below, share, stream

MIXED = 2305843009213693951
SIZE, BEST, STALE, TRIED = 0, 1, 2, 3  # places in Kin.tally
NEVER = 1 << 40
WILD = 8  # one first plan in so many has hardly any rule
CHANGED = 1.5  # neighbours swapped in a child, on average


class Kin(NamedTuple):
    """The plans kept (starts, finishes, length, fingerprint), and scratch space."""

    start: Ints
    finish: Ints
    span: Ints
    mark: Ints
    tally: Ints
    record: Ints
    state: Ints
    free: Ints
    buckets: Ints
    order: Ints
    other: Ints
    here: Ints
    there: Ints
    left: Ints


def kin_of(p: Plain, size: int, seed: int) -> Kin:
    """Return room for `size` plans, none made yet."""
    nodes = _zeros(p.nodes)
    return Kin(
        _zeros(size, p.nodes),
        _zeros(size, p.nodes),
        np.full(size, NEVER, dtype=np.int64),
        _zeros(size),
        np.array([0, NEVER, 0, 0], dtype=np.int64),
        nodes,
        stream(seed),
        _zeros(p.need.shape[1], p.steps),
        _zeros(p.steps + 3),
        *(nodes.copy() for _ in range(5)),
    )


def _zeros(*shape: int) -> Ints:
    return np.zeros(shape, dtype=np.int64)


@compiled
def breed(p: Plain, k: Kin, schedules: int, bound: int) -> int:
    """Make up to `schedules` plans, fewer if the bound is met; return how many.

    A child takes two, so one may be left over; at least one plan is made.
    """
    made, size = 0, len(k.span)
    while made < schedules and k.tally[BEST] > bound:
        fresh = k.tally[SIZE] < size
        if fresh:
            father = mother = k.tally[SIZE]
            note(k, first_plan(p, k))
            made += 1
        else:
            father, mother = fitter(k), fitter(k)
        if made + 2 > schedules:
            break
        if fresh:
            in_order(k.there, k.there.max(), True, k.buckets, k.order)
            k.tally[SIZE] += 1
        else:
            cross(p, k, father, mother)
            mutate(p, k)
        span = serial(p, True, k.order, k.free, k.here, k.there)
        in_order(k.there, span, True, k.buckets, k.order)
        span = serial(p, False, k.order, k.free, k.here, k.there)
        made += 2
        note(k, span)
        keep(k, father, mother, span)
        if k.tally[STALE] > size * p.nodes // 2 + size:
            k.span[:] = NEVER
            k.tally[SIZE] = k.tally[STALE] = 0
    return made


@compiled
def note(k: Kin, span: int) -> None:
    """Keep the plan just made as the record, if it is one."""
    k.tally[STALE] += 1
    if span < k.tally[BEST]:
        k.tally[BEST] = span
        k.tally[STALE] = 0
        k.record[:] = k.here


@compiled
def first_plan(p: Plain, k: Kin) -> int:
    """Make a plan from the latest finishes, shaken; every other one in parallel."""
    slack = below(k.state, p.tail.max() // 2 + 1) + 2  # some little, some a lot
    if below(k.state, WILD) == 0:
        slack *= 4
    for n in range(p.nodes):
        k.other[n] = (below(k.state, slack) + below(k.state, slack)) // 2
        k.other[n] -= p.tail[n] - p.length[n]
    if k.tally[SIZE] % 2:
        return parallel(p, k.other, k.left, k.free, k.here, k.there)
    in_turn(p, k)
    return serial(p, False, k.order, k.free, k.here, k.there)


@compiled
def in_turn(p: Plain, k: Kin) -> None:
    """Write the order by key, the smallest first, as links allow."""
    for n in range(p.nodes):
        k.left[n] = p.before_from[n + 1] - p.before_from[n]
    for turn in range(p.nodes):
        best = -1
        for n in range(p.nodes):
            if k.left[n] == 0 and (best < 0 or k.other[n] < k.other[best]):
                best = n
        k.order[turn] = best
        k.left[best] = -1
        for a in range(p.after_from[best], p.after_from[best + 1]):
            k.left[p.after[a]] -= 1


@compiled
def fitter(k: Kin) -> int:
    """Return the better of two plans picked at random."""
    one, other = below(k.state, len(k.span)), below(k.state, len(k.span))
    return other if k.span[other] < k.span[one] else one


@compiled
def dense_stretch(p: Plain, k: Kin, father: int) -> tuple[int, int]:
    """Return the stretch of a random length in which most is going on."""
    span = k.span[father]
    for step in range(span + 1):
        k.buckets[step] = 0
    for n in range(p.nodes):
        k.buckets[k.start[father, n]] += p.weight[n]
        k.buckets[k.finish[father, n]] -= p.weight[n]
    level, total = 0, 0
    for step in range(span + 1):
        change = k.buckets[step]
        k.buckets[step] = total
        level += change
        total += level
    length = max(int(span * (0.2 + 0.6 * share(k.state))), 1)
    best, most = 0, -1
    for step in range(span - length + 1):
        if k.buckets[step + length] - k.buckets[step] > most:
            most = k.buckets[step + length] - k.buckets[step]
            best = step
    return best, best + length


@compiled
def cross(p: Plain, k: Kin, father: int, mother: int) -> None:
    """Write a child's order, last first: the father's stretch, else the mother's."""
    opens, closes = dense_stretch(p, k, father)
    in_order(k.finish[mother], k.span[mother], True, k.buckets, k.order)
    in_order(k.finish[father], k.span[father], True, k.buckets, k.other)
    ends = k.finish[father]
    k.left[:] = k.order
    at = 0
    for n in k.left:
        if ends[n] > closes:
            k.order[at] = n
            at += 1
    for n in k.other:
        if opens < ends[n] <= closes:
            k.order[at] = n
            at += 1
    for n in k.left:
        if ends[n] <= opens:
            k.order[at] = n
            at += 1


@compiled
def mutate(p: Plain, k: Kin) -> None:
    """Swap a few neighbours that do not follow one another."""
    for at in range(p.nodes - 1):
        if share(k.state) * p.nodes < CHANGED:
            one, other = k.order[at], k.order[at + 1]
            tied = False
            for a in range(p.after_from[other], p.after_from[other + 1]):
                tied = tied or p.after[a] == one
            if not tied:
                k.order[at], k.order[at + 1] = other, one


@compiled
def keep(k: Kin, father: int, mother: int, span: int) -> None:
    """Let the plan just made replace the parent it is more like."""
    mark = 1
    for n in range(len(k.here)):
        mark = (mark * 31 + k.here[n]) % MIXED
    for row in range(len(k.span)):
        if k.span[row] == span and k.mark[row] == mark and k.span[father] != NEVER:
            return
    apart = 0
    for n in range(len(k.here)):
        apart += abs(k.here[n] - k.start[father, n])
        apart -= abs(k.here[n] - k.start[mother, n])
    at = father if apart <= 0 else mother
    if span <= k.span[at]:
        k.start[at] = k.here
        k.finish[at] = k.there
        k.span[at] = span
        k.mark[at] = mark
