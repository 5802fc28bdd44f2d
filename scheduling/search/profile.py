"""Makes plans for plain problems from an order, forward or backward in time.

Serial and parallel schedule generation (Kolisch 1996, EJOR 90:320-333, from memory).
Backward is the same with the links turned round; time then counts from the end.
"""

from __future__ import annotations

from scheduling.compiled import bare, compiled
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
        for word in range(p.need.shape[1]):
            for step in range(begin, end):
                free[word, step] -= p.need[n, word]
        start[n], finish[n] = begin, end
        span = max(span, end)
    return span


@compiled
def turned(p: Plain) -> Plain:
    """Return a problem with its links turned round."""
    return Plain(
        p.nodes,
        p.unit,
        p.steps,
        p.length,
        p.need,
        p.room,
        p.after_from,
        p.after,
        p.after_wait,
        p.before_from,
        p.before,
        p.before_wait,
        p.tail,
        p.weight,
    )


@compiled
def parallel(
    p: Plain,
    back: bool,
    key: Ints,
    left: Ints,
    free: Ints,
    start: Ints,
    finish: Ints,
) -> int:
    """Start at every moment all that can start, in order of key, the smallest first."""
    if back:
        p = turned(p)
    for n in range(p.nodes):
        left[n] = p.before_from[n + 1] - p.before_from[n]
        start[n], finish[n] = 0, -1
    order = key.argsort(kind="mergesort")
    top, placed, now, longest = 0, 0, 0, p.length.max()
    while placed < p.nodes:
        top = open_up(free, p.room, top, now + longest + 1)
        placed += _started(p, order, left, free, start, finish, now)
        now = _next_event(p, left, start, finish, now)
    return int(finish.max())


@bare
def _started(
    p: Plain,
    order: Ints,
    left: Ints,
    free: Ints,
    start: Ints,
    finish: Ints,
    now: int,
) -> int:
    """Start all that can start now; return how many."""
    placed, at = 0, 0
    while at < p.nodes:
        n = order[at]
        at += 1
        if finish[n] >= 0 or left[n] or start[n] > now:
            continue
        if p.length[n] and not fits(free, now, p.need, n):
            continue
        start[n], finish[n] = now, now + p.length[n]
        for word in range(p.need.shape[1]):
            for step in range(now, finish[n]):
                free[word, step] -= p.need[n, word]
        for a in range(p.after_from[n], p.after_from[n + 1]):
            later = p.after[a]
            left[later] -= 1
            start[later] = max(start[later], finish[n] + p.after_wait[a])
        placed += 1
        if not p.length[n]:  # what follows may come before those not yet tried
            at = 0
    return placed


@bare
def _next_event(p: Plain, left: Ints, start: Ints, finish: Ints, now: int) -> int:
    """Return the next moment something ends or may start."""
    found = p.steps
    for n in range(p.nodes):
        if finish[n] > now:
            found = min(found, finish[n])
        elif finish[n] < 0 and not left[n] and start[n] > now:
            found = min(found, start[n])
    return found


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
