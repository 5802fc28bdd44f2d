"""Finds the shared plan that serves the lead's wishes best."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from scheduling.critical_path import Early, Late
from scheduling.followed import followed_keys, followed_plan
from scheduling.goals import Due, Goal
from scheduling.network import Network
from scheduling.search.arrays import Floats
from scheduling.search.bound import least_cost, least_ends
from scheduling.search.budget import Watch
from scheduling.search.improve import improve
from scheduling.search.plain import plain_of
from scheduling.search.problem import problem_of
from scheduling.search.read_back import plan_from
from scheduling.shared_plan import SharedPlan
from scheduling.soonest import soonest
from scheduling.timeline import PER_WEEK
from scheduling.wishes import Cost, Following, Wishes, change_of, cost_of, wishes_of

DEFAULT_SCHEDULES = 60
FAR = 1e9
TIE = 1e-3  # the lead's order of cars decides between equal dates
SHAKEN = 3  # first orders that are shaken ones
PROVEN = "proven best"

Goals = Mapping[tuple[str | None, str], Goal]


def best_plan(
    network: Network,
    early: Early,
    late: Late,
    goals: Goals,
    dues: tuple[Due, ...],
    *,
    schedules: int | None = DEFAULT_SCHEDULES,
    seconds: float = math.inf,
    seed: int = 1,
    following: Following | None = None,
    watch: Watch | None = None,
) -> SharedPlan:
    """Return the best shared plan found.

    Parameters
    ----------
    schedules : int, optional
        How many plans to make, at least one; the result then depends on it and `seed`
        only. None: as many as `seconds` allow, on two threads.
    seconds : float
    following : Following, optional
        The plan people follow: of plans equal in all else the one nearest to it is
        taken. Its own order is among those tried, and the only one where it is kept.
    watch : callable, optional
        Told now and then, from the calling thread, the share that is done; False ends
        the search with the best plan so far.

    Notes
    -----
    What makes a plan good is in `wishes`.
    """
    wishes = wishes_of(network, goals, dues)
    ends = least_ends(network, soonest(network)[1], wishes)
    bound = least_cost(wishes, ends)
    problem, teams = problem_of(network, wishes, following)
    kept = followed_plan(network, following, problem, teams) if following else None
    if kept and following and following.keep:
        return _judged(network, kept, wishes, bound, following, 1)
    found = improve(
        problem,
        _first_keys(network, early, late, seed, following),
        bound=bound,
        plain=plain_of(network, problem) if following is None else None,
        schedules=None if schedules is None else max(schedules, 1),
        seconds=seconds,
        seed=seed,
        watch=watch,
    )
    shared = plan_from(network, found.placed, teams)
    best = _judged(network, shared, wishes, bound, following, found.schedules)
    if kept:
        old = _judged(network, kept, wishes, bound, following, found.schedules)
        best = min(old, best, key=lambda one: one.cost)
    return best


def _judged(
    network: Network,
    shared: SharedPlan,
    wishes: Wishes,
    bound: Cost,
    following: Following | None,
    schedules: int,
) -> SharedPlan:
    """Return a plan with what it costs, and what is known of the least cost."""
    change = change_of(network, following, shared.start, shared.team)
    cost = cost_of(wishes, shared.finish, change)
    return replace(
        shared,
        cost=cost,
        bound=min(bound, cost),
        status=status_of(cost, bound),
        schedules=schedules,
    )


def status_of(cost: Cost, bound: Cost) -> str:
    """Return in words how near a cost is to one that no plan can be below.

    What changes for people does not count: "best" is about shows and cars.
    """
    if cost[:2] <= bound[:2]:
        return PROVEN
    over, least = sum(cost[:2]), max(sum(bound[:2]), 1)
    return f"within {max(math.ceil(100 * (over / least - 1)), 1)} % of the bound"


def _first_keys(
    network: Network,
    early: Early,
    late: Late,
    seed: int,
    following: Following | None,
) -> Floats:
    """Return the orders to try first: latest finish, latest start, these shaken."""
    count = len(network.nodes)
    turn = TIE * np.array([_rank(network, number) for number in range(count)])
    finish = np.minimum(np.array(late.finish), FAR) + turn
    start = np.minimum(np.array(late.start), FAR) + turn
    random = np.random.default_rng(seed)
    rows = [finish, start, np.array(early.start) + finish]
    if following:
        rows.insert(0, np.array(followed_keys(network, following)))
    rows += [finish + random.normal(0.0, 2.0 * PER_WEEK, count) for _ in range(SHAKEN)]
    return np.array(rows).reshape(len(rows), count)


def _rank(network: Network, number: int) -> int:
    build = network.nodes[number].works[0].job.build
    return next((one.rank for one in network.plan.builds if one.id == build), 0)
