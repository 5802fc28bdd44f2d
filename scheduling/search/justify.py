"""Breeds plans for plain problems, turned round from one generation to the next.

A child of two plans made forward is made backward, and a child of two plans made
backward is made forward: each goes back over its parents' plans (justification: Valls
et al. 2005, EJOR 165:375-386) for the price of one plan (two families: Debels &
Vanhoucke 2007, Operations Research 55:457-469; both from memory). One child in some is
made in parallel (Hartmann 2002, Naval Research Logistics 49:433-448, from memory). The
families shrink as the end comes near, so that they mix long and still come to a close.
"""

from __future__ import annotations

from scheduling.compiled import bare, compiled
from scheduling.search.crossing import cross, mutate
from scheduling.search.kin import AGE, BACKWARD, BEST, FORWARD, ROW, SIZE, Kin
from scheduling.search.plain import Plain
from scheduling.search.profile import in_order, parallel, serial
from scheduling.search.randoms import below, share

MIXED = 2305843009213693951  # a Mersenne prime, for fingerprints
WILD = 8  # one first plan in so many has hardly any rule
IN_PARALLEL = 0.1  # of the children


@compiled
def breed(p: Plain, k: Kin, schedules: int, size: int, bound: int) -> int:
    """Make so many plans, fewer if the bound is met; return how many.

    Families of more than `size` plans lose their longest at the end of a generation.
    """
    for made in range(schedules):
        age, row = k.tally[AGE], k.tally[ROW]
        family = age % 2
        if age == 0:
            span = first_plan(p, k)
        elif age == 1:
            in_order(k.finish[0, row], k.span[0, row], True, k.buckets, k.order)
            span = serial(p, True, k.order, k.free, k.here, k.there)
        else:
            span = bear(p, k, 1 - family, row)
        keep(k, family, row, span)
        if span <= bound:
            return made + 1
        k.tally[ROW] += 1
        if k.tally[ROW] == k.tally[SIZE]:
            k.tally[AGE] += 1
            k.tally[ROW] = 0
            if age:
                dwindle(k, size)
    return schedules


@compiled
def first_plan(p: Plain, k: Kin) -> int:
    """Make a plan from the latest finishes, shaken; every other one in parallel."""
    slack = below(k.state, p.tail.max() // 2 + 1) + 2  # some little, some a lot
    if below(k.state, WILD) == 0:
        slack *= 4
    for n in range(p.nodes):
        k.other[n] = (below(k.state, slack) + below(k.state, slack)) // 2
        k.other[n] -= p.tail[n] - p.length[n]
    if k.tally[ROW] % 2:
        return parallel(p, False, k.other, k.left, k.free, k.here, k.there)
    in_turn(p, k)
    return serial(p, False, k.order, k.free, k.here, k.there)


@bare
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
def bear(p: Plain, k: Kin, family: int, row: int) -> int:
    """Make a child of the plan in this row and of a fit one, in the other direction."""
    father, mother = row, fitter(k, family)
    if below(k.state, 2):
        father, mother = mother, father
    cross(p, k, family, father, mother)
    back = family == FORWARD
    mutate(p, back, k.order, k.state)
    if share(k.state) >= IN_PARALLEL:
        return serial(p, back, k.order, k.free, k.here, k.there)
    for turn in range(p.nodes):
        k.other[k.order[turn]] = turn
    return parallel(p, back, k.other, k.left, k.free, k.here, k.there)


@bare
def fitter(k: Kin, family: int) -> int:
    """Return the better of two plans picked at random."""
    one, other = below(k.state, k.tally[SIZE]), below(k.state, k.tally[SIZE])
    return other if k.span[family, other] < k.span[family, one] else one


@compiled
def keep(k: Kin, family: int, row: int, span: int) -> None:
    """Put the plan just made in its row, unless it is longer or known already."""
    if span < k.tally[BEST]:
        k.tally[BEST] = span
        k.record[:] = k.here
        if family == BACKWARD:
            k.record[:] = span - k.there
    if span > k.span[family, row]:
        return
    mark = 1
    for n in range(len(k.here)):
        mark = (mark * 31 + k.here[n]) % MIXED
    for other in range(k.tally[SIZE]):
        known = k.span[family, other] == span and k.mark[family, other] == mark
        if known and k.tally[AGE] > 1:  # the first plans may be alike
            return
    k.start[family, row], k.finish[family, row] = k.here, k.there
    k.span[family, row], k.mark[family, row] = span, mark


@compiled
def dwindle(k: Kin, size: int) -> None:
    """Drop the longest plans of both families until there are no more than `size`."""
    while k.tally[SIZE] > size:
        last = k.tally[SIZE] - 1
        for family in range(2):
            worst = k.span[family, : last + 1].argmax()
            k.start[family, worst] = k.start[family, last]
            k.finish[family, worst] = k.finish[family, last]
            k.span[family, worst] = k.span[family, last]
            k.mark[family, worst] = k.mark[family, last]
        k.tally[SIZE] = last
