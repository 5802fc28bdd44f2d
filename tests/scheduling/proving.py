"""What the tests of proofs share: problems, first plans, answers for the judge."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from typing import Any

import scheduling
from scheduling.proof import Proof, prove
from scheduling.shared_plan import SharedPlan, serial_plan
from scheduling.solve import Posed, answer_with, pose
from scheduling.timeline import PER_HOUR
from scheduling.wishes import Cost, Wishes, cost_of, wishes_of


def posed(facts: Mapping[str, Any]) -> tuple[Posed, Wishes]:
    problem = pose(scheduling.read_plan(facts))
    return problem, wishes_of(problem.network, problem.goals, problem.dues)


def in_some_order(problem: Posed, seed: int) -> SharedPlan:
    """Return a plan that keeps every limit, in no particular order."""
    dice = random.Random(seed)
    return serial_plan(problem.network, [dice.random() for _ in problem.network.nodes])


def proved(
    facts: Mapping[str, Any], *, order: int = 0, seconds: float = 20.0
) -> tuple[Posed, Wishes, Proof]:
    """Return the best plan of a problem, found from a plan in some order."""
    problem, wishes = posed(facts)
    first = in_some_order(problem, order)
    proof = prove(problem.network, first, wishes, seconds=seconds, repeatable=True)
    return problem, wishes, proof


def faults(problem: Posed, shared: SharedPlan) -> list[str]:
    """Return what the judge has against a plan."""
    answer = answer_with(problem, shared, samples=2).as_dict()
    return [one.what for one in scheduling.broken_rules(problem.network.plan, answer)]


def cost(wishes: Wishes, shared: SharedPlan) -> Cost:
    return cost_of(wishes, shared.finish)


def hours_taken(problem: Posed, shared: SharedPlan) -> float:
    return (max(shared.finish) - problem.network.now) / PER_HOUR


def job_shop(jobs: Sequence[Sequence[tuple[int, int]]]) -> dict[str, Any]:
    """Return a job shop as a plan: each machine a place that holds one job."""
    machines = {machine for steps in jobs for machine, _ in steps}
    return {
        "places": [{"id": f"m{one}"} for one in sorted(machines)],
        "jobs": [
            {
                "id": f"j{number}-{place}",
                "estimate": {"likely": hours},
                "places": [f"m{machine}"],
                "after": [f"j{number}-{place - 1}"] if place else [],
            }
            for number, steps in enumerate(jobs)
            for place, (machine, hours) in enumerate(steps)
        ],
    }
