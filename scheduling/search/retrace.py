"""Makes a plan from an order much like another's, for less than a plan.

As long as nothing has a start other than in the known plan, a node has the start it has
there once all that came before it in the known order is placed: at that start it fits,
for the known plan does, and any earlier it did not fit even among fewer. So such starts
are taken over, and only the others are worked out.
"""

from __future__ import annotations

from scheduling.compiled import bare
from scheduling.search.arrays import Ints
from scheduling.search.plain import Plain
from scheduling.search.profile import open_up, settle, take

NOWHERE = -1


@bare
def retrace(
    p: Plain,
    back: bool,
    order: Ints,
    free: Ints,
    start: Ints,
    finish: Ints,
    known_order: Ints,
    known_start: Ints,
    limit: int,
    worked_out: Ints,
) -> tuple[int, bool]:
    """Place nodes one by one, each at its earliest, in an order near a known one.

    Returns the length of the plan, and whether it differs from the known plan. It is
    given up, and the length then more than `limit`, as soon as it can be no shorter
    than that. Starts worked out, not taken over, are added to `worked_out`.
    """
    top, span, passed, apart = 0, 0, 0, False
    link_from, link, wait, rest = p.before_from, p.before, p.before_wait, p.tail
    if back:
        link_from, link, wait, rest = p.after_from, p.after, p.after_wait, p.head
    for n in range(p.nodes):
        start[n] = NOWHERE
    for k in range(p.nodes):
        n = order[k]
        while passed < p.nodes and start[known_order[passed]] != NOWHERE:
            passed += 1
        if not apart and known_order[passed] == n:
            start[n] = known_start[n]
            top = open_up(free, p.room, top, start[n] + p.length[n])
            take(p, free, n, start[n])
        else:
            begin = 0
            for a in range(link_from[n], link_from[n + 1]):
                begin = max(begin, finish[link[a]] + wait[a])
            start[n], top = settle(p, free, top, n, begin)
            worked_out[0] += 1
            apart = apart or start[n] != known_start[n]
        finish[n] = start[n] + p.length[n]
        span = max(span, finish[n])
        if start[n] + rest[n] > limit:
            return start[n] + rest[n], True
    return span, apart
