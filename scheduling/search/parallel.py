"""Makes plans for plain problems moment by moment, forward or backward in time.

Parallel schedule generation (Kolisch 1996, EJOR 90:320-333, from memory).
"""

from __future__ import annotations

from scheduling.compiled import bare, compiled
from scheduling.search.arrays import Ints
from scheduling.search.plain import Plain
from scheduling.search.profile import fits, open_up, take


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
        p.head,
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
    limit: int,
    worked_out: Ints,
) -> int:
    """Start at every moment all that can start, in order of key, the smallest first.

    Returns the length of the plan; more than `limit` if it was given up because it can
    be no shorter than that. Starts worked out are added to `worked_out`.
    """
    if back:
        p = turned(p)
    for n in range(p.nodes):
        left[n] = p.before_from[n + 1] - p.before_from[n]
        start[n], finish[n] = 0, -1
    order = key.argsort(kind="mergesort")
    top, placed, now, longest = 0, 0, 0, p.length.max()
    while placed < p.nodes:
        top = open_up(free, p.room, top, now + longest + 1)
        begun, least = _started(p, order, left, free, start, finish, now)
        worked_out[0] += begun
        placed += begun
        if least > limit:
            return least
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
) -> tuple[int, int]:
    """Start all that can start now; return how many, and the least the plan takes."""
    placed, at, least = 0, 0, 0
    while at < p.nodes:
        n = order[at]
        at += 1
        if finish[n] >= 0 or left[n] or start[n] > now:
            continue
        if p.length[n] and not fits(free, now, p.need, n):
            continue
        start[n], finish[n] = now, now + p.length[n]
        take(p, free, n, now)
        for a in range(p.after_from[n], p.after_from[n + 1]):
            later = p.after[a]
            left[later] -= 1
            start[later] = max(start[later], finish[n] + p.after_wait[a])
        placed += 1
        least = max(least, now + p.tail[n])
        if not p.length[n]:  # what follows may come before those not yet tried
            at = 0
    return placed, least


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
