"""Searches for a good plan until its plans, its time or its chances run out."""

from __future__ import annotations

import math
import time
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from scheduling.compiled import PLAIN
from scheduling.search.arrays import Floats, Ints, Placed, Problem
from scheduling.search.decoder import decode
from scheduling.search.evolve import Family, evolve, family_of
from scheduling.wishes import Cost

Watch = Callable[[float], bool]
ROUND = 0.05  # seconds between two looks at the clock
STEP = 16  # plans between two looks where only their number counts
SMALLEST, LARGEST = 8, 200  # plans kept at once
THREADS = 2


@dataclass(frozen=True, slots=True)
class Found:
    """The best plan of a search, and how many were made to find it."""

    placed: Placed
    cost: Cost
    schedules: int


def improve(
    problem: Problem,
    keys: Floats,
    *,
    bound: Cost,
    schedules: int | None = None,
    seconds: float = math.inf,
    threads: int = THREADS,
    seed: int = 1,
    watch: Watch | None = None,
) -> Found:
    """Return the best plan found.

    Parameters
    ----------
    problem : Problem
        As `problem_of` gives it.
    keys : array of float, one row per order to try first
    bound : tuple of int
        A cost no plan can be below; the search ends when it is met.
    schedules : int, optional
        How many plans to make. The result then depends on it, `keys` and `seed` only,
        and one thread is used.
    seconds : float
        Time, where no number is given, on `threads` threads.
    watch : callable, optional
        Told the share done, from the calling thread; False ends the search.

    Notes
    -----
    At least one plan is always made.
    """
    goal = np.array(bound, dtype=np.int64)
    if schedules is not None:
        family = family_of(problem, keys, _size(schedules), seed)
        made = _count_out(problem, family, schedules, goal, watch)
        return _best(problem, [family], made)
    return _time_out(problem, keys, goal, seconds, 1 if PLAIN else threads, seed, watch)


def _size(schedules: float) -> int:
    """Return how many plans to keep: more where there is time to mix them."""
    return int(min(max(1.5 * math.sqrt(schedules), SMALLEST), LARGEST))


def _count_out(
    problem: Problem, family: Family, schedules: int, goal: Ints, watch: Watch | None
) -> int:
    made = 0
    while made < schedules:
        step = min(STEP, schedules - made)
        done = evolve(problem, family, step, goal)
        made += done
        if done < step or (watch is not None and not watch(made / schedules)):
            break
    return made


def _time_out(
    problem: Problem,
    keys: Floats,
    goal: Ints,
    seconds: float,
    threads: int,
    seed: int,
    watch: Watch | None,
) -> Found:
    family = family_of(problem, keys, 1, seed)
    evolve(problem, family, 1, goal)  # compiled before the clock is started
    began = time.monotonic()
    evolve(problem, family_of(problem, keys, 1, seed), 1, goal)
    rate = 1.0 / max(time.monotonic() - began, 1e-6)
    families = [
        family_of(problem, keys, _size(rate * seconds), seed + n)
        for n in range(threads)
    ]
    made, step = 2, max(int(rate * ROUND), 1)
    with ThreadPoolExecutor(threads) as pool:
        while True:
            begun = time.monotonic()
            jobs = [pool.submit(evolve, problem, one, step, goal) for one in families]
            done = [job.result() for job in jobs]
            made += sum(done)
            now = time.monotonic()
            step = max(int(step * ROUND / max(now - begun, ROUND / 4)), 1)
            share = min((now - began) / max(seconds, 1e-9), 1.0)
            going = watch is None or watch(share)
            if _proven(families, goal) or share >= 1.0 or not going:
                break
            _visit(families)
    return _best(problem, families, made)


def _proven(families: Sequence[Family], goal: Ints) -> bool:
    return any(tuple(_row(one)[1]) <= tuple(goal) for one in families)


def _row(family: Family) -> tuple[int, tuple[int, ...]]:
    """Return the place and the cost of a family's best plan."""
    made = int(family.tally[0])
    costs = [tuple(int(part) for part in cost) for cost in family.cost[:made]]
    best = min(range(made), key=costs.__getitem__)
    return best, costs[best]


def _visit(families: Sequence[Family]) -> None:
    """Put the best plan of each family in place of the next one's worst."""
    for one, other in zip(families, [*families[1:], families[0]], strict=True):
        if one is other or other.tally[0] < len(other.key):
            continue
        best, cost = _row(one)
        if one.mark[best] in other.mark:
            continue
        worst = max(range(len(other.cost)), key=lambda row: tuple(other.cost[row]))
        if cost < tuple(other.cost[worst]):
            for mine, theirs in zip(one[:4], other[:4], strict=True):
                theirs[worst] = mine[best]


def _best(problem: Problem, families: Sequence[Family], made: int) -> Found:
    rows = [(_row(one)[1], n) for n, one in enumerate(families)]
    cost, number = min(rows)
    family = families[number]
    decode(problem, family.key[_row(family)[0]], family.placed, family.booked)
    return Found(family.placed, (cost[0], cost[1], cost[2]), made)
