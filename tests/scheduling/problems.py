"""Plans as planning problems, for the tests of the search."""

from __future__ import annotations

import numpy as np

from scheduling.critical_path import latest
from scheduling.network import Network
from scheduling.plan import Plan
from scheduling.planner import best_plan
from scheduling.search.arrays import Floats, Problem
from scheduling.search.booking import room_for
from scheduling.search.decoder import decode
from scheduling.search.problem import problem_of
from scheduling.shared_plan import SharedPlan
from scheduling.solve import Posed
from scheduling.solve import pose as pose
from scheduling.wishes import Wishes, wishes_of
from scheduling.work import Team


def posed_problem(plan: Plan) -> tuple[Posed, Wishes, Problem, list[Team]]:
    posed = pose(plan)
    wishes = wishes_of(posed.network, posed.goals, posed.dues)
    problem, teams = problem_of(posed.network, wishes)
    return posed, wishes, problem, teams


def decoded(problem: Problem, teams: list[Team], key: Floats) -> SharedPlan:
    placed, booked = room_for(problem)
    decode(problem, key, placed, booked)
    return SharedPlan(
        placed.start.tolist(),
        placed.finish.tolist(),
        [teams[number] if number >= 0 else () for number in placed.team],
    )


def keys(network: Network, seed: int) -> Floats:
    """Return an order of the nodes that has nothing to do with what is sensible."""
    return np.random.default_rng(seed).permutation(len(network.nodes)).astype(float)


def planned(plan: Plan, **options: object) -> SharedPlan:
    posed = pose(plan)
    late = latest(posed.network, {})
    return best_plan(
        posed.network, posed.early, late, posed.goals, posed.dues, **options
    )
