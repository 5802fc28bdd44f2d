"""Latest finishes from which the backward passes begin."""

from __future__ import annotations

from collections.abc import Mapping

from scheduling.critical_path import FOREVER, Early
from scheduling.goals import Due, Goal
from scheduling.network import Network
from scheduling.timeline import PER_WEEK

UNDATED = 1e6

Goals = Mapping[tuple[str | None, str], Goal]


def chain_targets(
    network: Network, early: Early, goals: Goals, dues: tuple[Due, ...]
) -> dict[int, float]:
    """Return latest finishes that leave the driving chain of each car no float.

    A node needed for a show's level may finish with that level; the rest of the car
    with the car.
    """
    top = network.plan.levels[-1]
    wishes = [(build, top) for build, level in goals if level == top]
    wishes += [(due.build, due.level) for due in dues]
    targets: dict[int, float] = {}
    for wish in wishes:
        ends = goals[wish].ends
        last = max((early.finish[number] for number in ends), default=network.now)
        for number in ends:
            targets[number] = min(last, targets.get(number, FOREVER))
    return targets


def show_targets(goals: Goals, dues: tuple[Due, ...]) -> dict[int, float]:
    """Return the earliest move-in each needed node has to meet."""
    targets: dict[int, float] = {}
    for due in dues:
        for number in goals[due.build, due.level].ends:
            targets[number] = min(due.move_in, targets.get(number, FOREVER))
    return targets


def plan_targets(
    network: Network, early: Early, goals: Goals, dues: tuple[Due, ...]
) -> dict[int, float]:
    """Return what sets the planner's priorities: dated cars before all others."""
    rank = {build.id: build.rank for build in network.plan.builds}
    targets = {
        number: finish + UNDATED + PER_WEEK * rank.get(build or "", 0)
        for build, _ in goals
        for number, finish in chain_targets(
            network,
            early,
            {key: goal for key, goal in goals.items() if key[0] == build},
            (),
        ).items()
    }
    for due in dues:
        for number in goals[due.build, due.level].ends:
            targets[number] = min(due.move_in, targets.get(number, FOREVER))
    return targets
