"""Tries priority orders and keeps the plan that serves the lead's wishes best."""

from __future__ import annotations

import time
from collections.abc import Iterator, Mapping

import numpy as np

from scheduling.critical_path import Early, Late
from scheduling.goals import Due, Goal
from scheduling.network import Network
from scheduling.shared_plan import SharedPlan, serial_plan
from scheduling.timeline import PER_WEEK
from scheduling.wishes import Cost, cost_of, wishes_of

DEFAULT_SCHEDULES = 6
FAR = 1e9
TIE = 1e-3  # the lead's order of cars decides between equal dates

Goals = Mapping[tuple[str | None, str], Goal]


def best_plan(
    network: Network,
    early: Early,
    late: Late,
    goals: Goals,
    dues: tuple[Due, ...],
    *,
    schedules: int = DEFAULT_SCHEDULES,
    seconds: float = 1.0,
    seed: int = 1,
) -> SharedPlan:
    """Return the best of a few serial plans.

    Parameters
    ----------
    schedules : int
        How many orders to try, at least one.
    seconds : float
        No new order is begun after this long; a plan is always returned. With time
        to spare the result depends on `schedules` and `seed` only.

    Notes
    -----
    Order of wishes: dated shows by the lead's order of cars, then the other cars.
    """
    began = time.monotonic()
    wishes = wishes_of(network, goals, dues)
    best: SharedPlan | None = None
    best_cost: Cost = (0, 0, 0)
    for tried, priority in enumerate(_orders(network, early, late, seed)):
        if tried >= schedules or (best and time.monotonic() - began > seconds):
            break
        shared = serial_plan(network, priority)
        cost = cost_of(wishes, shared.finish)
        if best is None or cost < best_cost:
            best, best_cost = shared, cost
    return best or serial_plan(network, late.finish)


def _orders(
    network: Network, early: Early, late: Late, seed: int
) -> Iterator[list[float]]:
    """Yield priorities: latest finish, latest start, then both shaken."""
    count = len(network.nodes)
    turn = TIE * np.array([_rank(network, number) for number in range(count)])
    finish = np.minimum(np.array(late.finish), FAR) + turn
    start = np.minimum(np.array(late.start), FAR) + turn
    yield finish.tolist()
    yield start.tolist()
    yield (np.array(early.start) + finish).tolist()
    random = np.random.default_rng(seed)
    while True:
        yield (finish + random.normal(0.0, 2.0 * PER_WEEK, count)).tolist()


def _rank(network: Network, number: int) -> int:
    build = network.nodes[number].works[0].job.build
    return next((one.rank for one in network.plan.builds if one.id == build), 0)
