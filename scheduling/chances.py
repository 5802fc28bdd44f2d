"""The odds of a plan and nothing else: quick enough to ask many times."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from scheduling.flow import resource_flow
from scheduling.followed import following_from
from scheduling.plan import Consignment, Plan
from scheduling.readiness import odds_of
from scheduling.sampling.kernel import Kernel
from scheduling.solve import first_plan, pose

Entry = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to try at each asking: the same draws and tries every time."""

    schedules: int = 2
    samples: int = 1_000
    seed: int | None = None
    following: Mapping[str, Any] | None = None


@dataclass(frozen=True, slots=True)
class Trip:
    """When a job leaves by the shared plan, and is back at even odds and at P80."""

    leaves: datetime
    p50: datetime
    p80: datetime


@dataclass(frozen=True, slots=True)
class Chances:
    """The chance of each show entry's wanted level, and the trips of some jobs."""

    entries: Mapping[Entry, float]
    trips: Mapping[str, Trip]


def chances(plan: Plan, effort: Effort, jobs: tuple[str, ...] = ()) -> Chances:
    """Return the odds of every show entry of a plan, and when some jobs travel.

    Parameters
    ----------
    plan : Plan
        Checked.
    effort : Effort
        Plans that differ only in when something leaves are compared on common random
        numbers: the same seed draws every job alike.
    jobs : ids of jobs that are not done
    """
    posed = pose(plan)
    seed = plan.seed if effort.seed is None else effort.seed
    network = posed.network
    followed = following_from(network, effort.following)
    shared = first_plan(posed, effort.schedules, 0.0, seed, followed)
    kernel = Kernel(network, shared, resource_flow(network, shared, posed.dues))
    odds = odds_of(
        network, shared, kernel, posed.goals, (), samples=effort.samples, seed=seed
    )
    moment = network.clocks.timeline.moment
    entries = {
        (due.show, due.build): odds.chance((due.build, due.level), due.move_in)
        for due in posed.dues
    }
    trips = {}
    for job in jobs:
        number = network.index[job]
        _, p50, p80, _ = odds.points[:, number].tolist()
        trips[job] = Trip(moment(shared.start[number]), moment(p50), moment(p80))
    return Chances(entries, trips)


def each_alone(plan: Plan, jobs: tuple[str, ...]) -> Plan:
    """Return the plan with some jobs leaving each on its own, when it is ready."""
    kept = [
        replace(one, jobs=left)
        for one in plan.consignments
        if (left := tuple(job for job in one.jobs if job not in jobs))
    ]
    return replace(plan, consignments=tuple(kept))


def sent_together(plan: Plan, loads: tuple[Consignment, ...]) -> Plan:
    """Return the plan with these loads in place of those their jobs travel in."""
    taken = tuple(job for load in loads for job in load.jobs)
    kept = each_alone(plan, taken).consignments
    return replace(plan, consignments=(*kept, *loads))
