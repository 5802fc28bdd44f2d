"""Searches for a good plan until its plans, its time or its chances run out."""

from __future__ import annotations

import math
import time
from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np

from scheduling.compiled import PLAIN
from scheduling.search.arrays import Floats, Ints, Placed, Problem
from scheduling.search.budget import Watch, count_out, time_out
from scheduling.search.decoder import decode
from scheduling.search.evolve import Family, evolve, family_of
from scheduling.search.improve_plain import improve_plain
from scheduling.search.plain import Plain
from scheduling.wishes import Cost

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
    plain: Plain | None = None,
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
    plain : Plain, optional
        The same problem in plain terms, if it is a plain one: it is searched instead.
    schedules : int, optional
        How many plans to make, those of a plain problem counted by the starts worked
        out. The result then depends on it, `keys` and `seed` only, and one thread is
        used.
    seconds : float
        Time, where no number is given, on `threads` threads.
    watch : callable, optional
        Told the share done, from the calling thread; False ends the search.

    Notes
    -----
    At least one plan is always made.
    """
    threads = 1 if PLAIN or schedules is not None else threads
    made = 0
    if plain is not None:
        span = bound[1] // int(problem.wish[0].weight) // plain.unit
        few = None if schedules is None else max(schedules - 2, 1)  # may run over
        record, made = improve_plain(plain, span, few, seconds, threads, seed, watch)
        keys, schedules = np.concatenate([record[None, :], keys]), 1
    goal = np.array(bound, dtype=np.int64)
    if schedules is not None:
        families = [family_of(problem, keys, _size(schedules), seed)]
        made += count_out(
            partial(_step, problem, families[0], goal),
            schedules,
            watch,
            ended=lambda: _row(families[0])[1] <= tuple(goal),
        )
        return _best(problem, families, made)
    probe = family_of(problem, keys, 1, seed)
    evolve(problem, probe, 1, goal)  # compiled before the clock is started
    began = time.monotonic()
    evolve(problem, probe, 1, goal)
    rate = 1.0 / max(time.monotonic() - began, 1e-6)
    size = _size(rate * seconds)
    families = [family_of(problem, keys, size, seed + n) for n in range(threads)]
    made = time_out(
        [partial(_step, problem, one, goal) for one in families],
        max(int(rate * 0.05), 1),
        seconds,
        watch,
        ended=lambda: any(_row(one)[1] <= tuple(goal) for one in families),
        between=partial(_visit, families),
    )
    return _best(problem, families, made)


def _step(problem: Problem, family: Family, goal: Ints, step: int) -> int:
    return evolve(problem, family, step, goal)


def _size(schedules: float) -> int:
    """Return how many plans to keep: more where there is time to mix them."""
    return int(min(max(1.5 * math.sqrt(schedules), SMALLEST), LARGEST))


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
    cost, number = min((_row(one)[1], n) for n, one in enumerate(families))
    family = families[number]
    decode(problem, family.key[_row(family)[0]], family.placed, family.booked)
    return Found(family.placed, (cost[0], cost[1], cost[2]), made)
