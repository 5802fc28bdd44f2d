"""What a plan in arrays costs: `wishes.cost_of` and `change_of` for compiled code."""

from __future__ import annotations

import math

from scheduling.compiled import bare
from scheduling.search.arrays import Floats, Ints, Problem
from scheduling.timeline import TINY
from scheduling.wishes import OTHER_HANDS


@bare
def end_of(p: Problem, wish: int, finish: Floats) -> int:
    """Return the whole quarter at which the last end of a wish is finished."""
    last = 0.0
    for k in range(p.wish[wish].end_from, p.wish[wish + 1].end_from):
        last = max(last, finish[p.end[k]])
    return math.ceil(last - TINY)


@bare
def late_and_soon(p: Problem, finish: Floats) -> tuple[int, int]:
    """Return the first two parts of the cost."""
    late, soon = 0, 0
    for wish in range(len(p.wish) - 1):
        end = end_of(p, wish, finish)
        if wish >= p.dated:
            soon += p.wish[wish].weight * (end - p.now)
        elif end > p.wish[wish].move_in:
            late += p.wish[wish].weight * (end - p.wish[wish].move_in)
    return late, soon


@bare
def change(p: Problem, start: Floats, team: Ints) -> int:
    """Return the last part: quarters moved, and a day for each job in other hands."""
    moved = 0
    for n in range(p.nodes):
        for k in range(p.task[n].old_from, p.task[n + 1].old_from):
            moved += abs(math.ceil(start[n] - TINY) - p.old[k].start)
            if team[n] != p.old[k].team:
                moved += OTHER_HANDS
    return moved
