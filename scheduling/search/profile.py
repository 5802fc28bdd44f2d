"""Makes plans for plain problems from an order, forward or backward in time.

Serial schedule generation (Kolisch 1996, EJOR 90:320-333, from memory). Backward is
the same with the links turned round; time then counts from the end.
"""

from __future__ import annotations

from scheduling.compiled import bare
from scheduling.search.arrays import Ints
from scheduling.search.plain import GUARD, Plain


@bare
def fits(free: Ints, step: int, need: Ints, n: int) -> bool:
    """Return whether a node's units are free in one step."""
    for word in range(need.shape[1]):
        if (free[word, step] - need[n, word]) & GUARD != GUARD:
            return False
    return True


@bare
def open_up(free: Ints, room: Ints, top: int, until: int) -> int:
    """Write everything free from step `top` until `until`; return how far it is."""
    while top < until:
        for word in range(len(room)):
            free[word, top] = room[word]
        top += 1
    return top


@bare
def take(p: Plain, free: Ints, n: int, begin: int) -> None:
    """Take a node's units from its start to its finish."""
    for word in range(p.need.shape[1]):
        for step in range(begin, begin + p.length[n]):
            free[word, step] -= p.need[n, word]


@bare
def settle(p: Plain, free: Ints, top: int, n: int, begin: int) -> tuple[int, int]:
    """Take a node's units where it first fits; return its start and what is open."""
    end = begin + p.length[n]
    top = open_up(free, p.room, top, end)
    known, step = begin, end - 1
    while step >= known:
        if fits(free, step, p.need, n):
            step -= 1
        else:  # begin after this step; what lay beyond it is known to fit
            known = end
            begin = step + 1
            end = begin + p.length[n]
            top = open_up(free, p.room, top, end)
            step = end - 1
    take(p, free, n, begin)
    return begin, top


@bare
def serial(
    p: Plain, back: bool, order: Ints, free: Ints, start: Ints, finish: Ints
) -> int:
    """Place nodes one by one, each at its earliest; return the length of the plan."""
    top, span = 0, 0
    link_from, link, wait = p.before_from, p.before, p.before_wait
    if back:
        link_from, link, wait = p.after_from, p.after, p.after_wait
    for k in range(p.nodes):
        n = order[k]
        begin = 0
        for a in range(link_from[n], link_from[n + 1]):
            begin = max(begin, finish[link[a]] + wait[a])
        start[n], top = settle(p, free, top, n, begin)
        finish[n] = start[n] + p.length[n]
        span = max(span, finish[n])
    return span


@bare
def in_order(moment: Ints, span: int, falling: bool, count: Ints, order: Ints) -> None:
    """Sort nodes by moment, rising or falling; ties as nodes follow each other."""
    for step in range(span + 2):
        count[step] = 0
    nodes = len(moment)
    for n in range(nodes):
        count[moment[n] + 1] += 1
    for step in range(span + 1):
        count[step + 1] += count[step]
    for n in range(nodes):
        at = count[moment[n]]
        count[moment[n]] += 1
        order[at] = n
    if falling:
        for k in range(nodes // 2):
            order[k], order[nodes - 1 - k] = order[nodes - 1 - k], order[k]
