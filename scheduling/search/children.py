"""Makes a child of two plans, in the other direction and for less than a plan.

A child takes after its mother but for a stretch of time and a job or two, so much of
what she gives when turned round is its own plan too. Some children are made in parallel
(Hartmann 2002, Naval Research Logistics 49:433-448, from memory); how many, follows
from which way was worth more of late.
"""

from __future__ import annotations

from scheduling.compiled import bare, compiled
from scheduling.search.crossing import cross, mutate
from scheduling.search.keeping import keep
from scheduling.search.kin import (
    BEST,
    FORWARD,
    IN_PARALLEL,
    IN_SERIES,
    PRICE,
    SIZE,
    Kin,
)
from scheduling.search.parallel import parallel
from scheduling.search.plain import Plain
from scheduling.search.profile import in_order, serial
from scheduling.search.randoms import below, share
from scheduling.search.retrace import retrace

RARELY, OFTENER = 0.05, 0.7  # of the children made in parallel, at least and beyond
LASTING = 0.9  # of what was learned about that, each generation


@compiled
def bear(p: Plain, k: Kin, family: int, row: int) -> None:
    """Make a child of the plan in this row and of a fit one, in the other direction.

    The child is like what its mother gives when turned round, and costs what is new.
    """
    father, mother = row, fitter(k, family)
    if below(k.state, 2):
        father, mother = mother, father
    if k.has_turned[family, father] > k.has_turned[family, mother]:
        father, mother = mother, father
    if not k.has_turned[family, mother]:
        span = turn(p, k, family, mother)
        if span < k.tally[BEST]:  # else it is too near of kin to be kept
            keep(k, 1 - family, row, span)
    before = k.worked_out[0]
    cross(p, k, family, father, mother)
    mutate(p, family == FORWARD, k.order, k.state)
    way = IN_PARALLEL if share(k.state) < in_parallel(k) else IN_SERIES
    span, apart = made(p, k, family, mother, way, k.span[1 - family, row])
    if apart and keep(k, 1 - family, row, span):
        k.kept[way] += 1.0
    k.price[way] += (k.worked_out[0] - before) / p.nodes


@compiled
def turn(p: Plain, k: Kin, family: int, row: int) -> int:
    """Turn a plan round, write that down beside it and return its length."""
    order = k.turned_order[family, row]
    in_order(k.finish[family, row], k.span[family, row], True, k.buckets, order)
    span = serial(p, family == FORWARD, order, k.free, k.here, k.there)
    k.turned_start[family, row] = k.here
    k.has_turned[family, row] = 1
    k.worked_out[0] += p.nodes
    return span


@bare
def fitter(k: Kin, family: int) -> int:
    """Return the better of two plans picked at random."""
    one, other = below(k.state, k.tally[SIZE]), below(k.state, k.tally[SIZE])
    return other if k.span[family, other] < k.span[family, one] else one


@compiled
def made(
    p: Plain, k: Kin, family: int, mother: int, way: int, limit: int
) -> tuple[int, bool]:
    """Make a child from its order; return its length, and whether it is a new plan."""
    back = family == FORWARD
    if way == IN_SERIES:
        return retrace(
            p,
            back,
            k.order,
            k.free,
            k.here,
            k.there,
            k.turned_order[family, mother],
            k.turned_start[family, mother],
            limit,
            k.worked_out,
        )
    for at in range(p.nodes):
        k.other[k.order[at]] = at
    span = parallel(
        p, back, k.other, k.left, k.free, k.here, k.there, limit, k.worked_out
    )
    return span, True


@bare
def in_parallel(k: Kin) -> float:
    """Return how many of the children to make in parallel: by what came of it."""
    one, other = k.kept[IN_SERIES], k.kept[IN_PARALLEL]
    one, other = one / k.price[IN_SERIES], other / k.price[IN_PARALLEL]
    return float(RARELY + OFTENER * other / (one + other))


@compiled
def fade(k: Kin) -> None:
    """Forget some of what was learned about the ways to make a child."""
    k.kept[:] = LASTING * k.kept + (1.0 - LASTING)
    k.price[:] = LASTING * k.price + (1.0 - LASTING) * PRICE
