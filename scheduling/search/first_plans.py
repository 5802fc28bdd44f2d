"""The plans a search begins with: the latest finishes, shaken."""

from __future__ import annotations

from scheduling.compiled import bare, compiled
from scheduling.search.kin import NEVER, ROW, Kin
from scheduling.search.parallel import parallel
from scheduling.search.plain import Plain
from scheduling.search.profile import serial
from scheduling.search.randoms import below

WILD = 8  # one first plan in so many has hardly any rule


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
        return parallel(
            p, False, k.other, k.left, k.free, k.here, k.there, NEVER, k.worked_out
        )
    in_turn(p, k)
    k.worked_out[0] += p.nodes
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
