"""Writes the order of a child of two plans, the last of their jobs first.

A child takes its father's dense stretch, and its mother's order before and after it
(peak crossover: Valls, Ballestín & Quintanilla 2008, EJOR 185:495-508, from memory).
"""

from __future__ import annotations

from scheduling.compiled import bare
from scheduling.search.arrays import Ints
from scheduling.search.kin import Kin
from scheduling.search.plain import Plain
from scheduling.search.profile import in_order
from scheduling.search.randoms import below, share

SHORTEST, LONGEST = 0.1, 0.5  # the father's stretch, as a share of his plan
CHANGED = 0.4  # of the children have a job moved, 0.4 of these another, and so on


@bare
def cross(p: Plain, k: Kin, family: int, father: int, mother: int) -> None:
    """Write a child's order: the father's inside his dense stretch, else the mother's.

    Jobs go by their finishes, the last first, for the plan is made the other way round.
    """
    opens, closes = dense_stretch(p, k, family, father)
    span = k.span[family]
    in_order(k.finish[family, mother], span[mother], True, k.buckets, k.left)
    in_order(k.finish[family, father], span[father], True, k.buckets, k.other)
    ends = k.finish[family, father]
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


@bare
def dense_stretch(p: Plain, k: Kin, family: int, father: int) -> tuple[int, int]:
    """Return the stretch of a random length in which most is going on."""
    span = k.span[family, father]
    for step in range(span + 1):
        k.buckets[step] = 0
    for n in range(p.nodes):
        k.buckets[k.start[family, father, n]] += p.weight[n]
        k.buckets[k.finish[family, father, n]] -= p.weight[n]
    level, total = 0, 0
    for step in range(span + 1):
        change = k.buckets[step]
        k.buckets[step] = total
        level += change
        total += level
    part = SHORTEST + (LONGEST - SHORTEST) * share(k.state)
    length = max(int(span * part), 1)
    best, most = 0, -1
    for step in range(span - length + 1):
        if k.buckets[step + length] - k.buckets[step] > most:
            most = k.buckets[step + length] - k.buckets[step]
            best = step
    return best, best + length


@bare
def mutate(p: Plain, back: bool, order: Ints, state: Ints) -> None:
    """Now and then move a job elsewhere in the order, as far as its links allow.

    In an order for a plan made backward a job comes after those that follow it.
    """
    while share(state) < CHANGED:
        at, far = below(state, p.nodes), 1 + below(state, p.nodes)
        n = order[at]
        later = below(state, 2) == 0
        step = 1 if later else -1
        for _ in range(far):
            to = at + step
            if not 0 <= to < p.nodes or linked(p, n, order[to], back != later):
                break
            order[at] = order[to]
            at = to
        order[at] = n


@bare
def linked(p: Plain, n: int, other: int, onward: bool) -> bool:
    """Return whether a link goes from a node on to the other, or else back to it."""
    if onward:
        for a in range(p.after_from[n], p.after_from[n + 1]):
            if p.after[a] == other:
                return True
    else:
        for a in range(p.before_from[n], p.before_from[n + 1]):
            if p.before[a] == other:
                return True
    return False
