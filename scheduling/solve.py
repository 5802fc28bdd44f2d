"""From a plan to its answer: critical path, blocking, shared plan, honest odds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property, partial
from typing import Any

from scheduling.answer_json import answer_json
from scheduling.blocking import holdings
from scheduling.calendars import YEARS_AHEAD, YEARS_AT_MOST
from scheduling.conditions import Condition, condition_of
from scheduling.critical_path import Early, earliest, latest
from scheduling.findings import Findings
from scheduling.flow import free_flow, resource_flow
from scheduling.followed import following_from
from scheduling.goals import Due, Goal, dues_of, goals_of, wanted
from scheduling.kept_clocks import clocks_for
from scheduling.moves import moves_of
from scheduling.network import Network, build_network
from scheduling.plan import Plan
from scheduling.planner import DEFAULT_SCHEDULES, best_plan
from scheduling.readiness import POINTS, Key, Odds, odds_alone, odds_of
from scheduling.resting import without_resting
from scheduling.ring import calls_of
from scheduling.sampling.kernel import Kernel
from scheduling.search.budget import Watch
from scheduling.shared_plan import SharedPlan
from scheduling.targets import chain_targets, plan_targets, show_targets
from scheduling.threads import beside
from scheduling.wishes import Following


@dataclass
class Answer:
    """The answer to a plan; `as_dict` is the published JSON shape."""

    found: Findings

    @cached_property
    def _json(self) -> dict[str, Any]:
        return answer_json(self.found)

    def as_dict(self) -> dict[str, Any]:
        """Return the answer as plain JSON values."""
        return self._json


def answer(
    plan: Plan,
    *,
    seconds: float | None = None,
    schedules: int | None = None,
    samples: int | None = None,
    seed: int | None = None,
    following: Mapping[str, Any] | None = None,
    watch: Watch | None = None,
) -> Answer:
    """Answer a plan: what is critical, what blocks, one shared plan, honest odds.

    Parameters
    ----------
    plan : Plan
        As `read_plan` returns it: checked.
    seconds : float, optional
        Time for improving the shared plan, on two threads; a first one is always made.
        Without it a small number of plans is tried and the answer is repeatable.
    schedules : int, optional
        How many shared plans to try instead.
    samples, seed : int, optional
        Override the plan's own.
    following : mapping, optional
        The answer people work to, as `as_dict` gave it: of equally good plans the one
        nearest to it is taken, and `plan.moved` lists what moved and why. With
        ``keep: True`` in it, its order and hands are kept.
    watch : callable, optional
        Told the share of the search that is done; False ends it with the best so far.

    Returns
    -------
    Answer

    Raises
    ------
    CycleError
        Jobs wait for each other in a ring.

    Examples
    --------
    >>> from scheduling.plan_file import read_plan
    >>> rows = [{"id": "weld", "estimate": {"likely": 3}},
    ...         {"id": "fit", "estimate": {"likely": 2}, "after": ["weld"]}]
    >>> answer(read_plan({"jobs": rows}), samples=10).as_dict()["duration_hours"]
    5.0
    """
    posed = pose(plan)
    tries = schedules or (DEFAULT_SCHEDULES if seconds is None else None)
    seed = plan.seed if seed is None else seed
    followed = following_from(posed.network, following)
    shared = first_plan(posed, tries, seconds or 0.0, seed, followed, watch)
    return answer_with(posed, shared, samples=samples, seed=seed, following=followed)


@dataclass(frozen=True, slots=True)
class Posed:
    """A plan as a problem: its network, and what has to be ready when."""

    network: Network
    early: Early
    goals: dict[Key, Goal]
    dues: tuple[Due, ...]


def pose(plan: Plan) -> Posed:
    """Return the problem a plan poses; a ring of jobs raises CycleError.

    The jobs of a car left out are left out of it.
    """
    network, early = _forward(without_resting(plan))
    return Posed(network, early, goals_of(network), dues_of(network))


def first_plan(
    posed: Posed,
    schedules: int | None,
    seconds: float,
    seed: int,
    following: Following | None = None,
    watch: Watch | None = None,
) -> SharedPlan:
    """Return the best shared plan of so many, or with None of so many seconds."""
    network, early = posed.network, posed.early
    targets = plan_targets(network, early, posed.goals, posed.dues)
    return best_plan(
        network,
        early,
        latest(network, targets),
        posed.goals,
        posed.dues,
        schedules=schedules,
        seconds=seconds,
        seed=seed,
        following=following,
        watch=watch,
    )


def answer_with(
    posed: Posed,
    shared: SharedPlan,
    *,
    samples: int | None = None,
    seed: int | None = None,
    following: Following | None = None,
) -> Answer:
    """Return the answer that goes with one shared plan."""
    network, early, goals, dues = posed.network, posed.early, posed.goals, posed.dues
    plan = network.plan
    samples = samples or plan.samples
    seed = plan.seed if seed is None else seed
    levels = wanted(plan, dues)
    targets = [(build, levels[build]) for build, _ in goals if build in levels]
    targets = list(dict.fromkeys(targets))
    kernel = Kernel(network, shared, resource_flow(network, shared, dues))
    ask = partial(odds_of, samples=samples, seed=seed)
    coming = beside(partial(ask, network, shared, kernel, goals, targets))
    free = Kernel(network, shared, free_flow(network), threads=1)
    late = latest(network, chain_targets(network, early, goals, dues))
    show_late = latest(network, show_targets(goals, dues))
    held_up = holdings(network)
    odds = coming.result()
    alone = beside(partial(odds_alone, network, odds, free, goals))
    conditions = _conditions(network, odds)
    front = [
        number
        for number, node in enumerate(network.nodes)
        if not any(conditions[job].waits_for for job in node.ids)
    ]
    moves = moves_of(network, odds, goals, dues, front)
    gains: dict[str, float] = {}
    for move in moves:
        gains[move.job] = max(move.gain_probability, gains.get(move.job, 0.0))
    return Answer(
        Findings(
            network=network,
            early=early,
            late=late,
            show_late=show_late,
            goals=goals,
            wanted=levels,
            dues=dues,
            holdings=held_up,
            shared=shared,
            following=following,
            odds=odds,
            alone=alone.result(),
            conditions=conditions,
            moves=moves,
            calls=calls_of(network, shared, gains),
            faults=shared.faults,
            samples=samples,
            seed=seed,
        )
    )


def _forward(plan: Plan) -> tuple[Network, Early]:
    """Return the network and its forward pass, with calendars written far enough."""
    for years in (YEARS_AHEAD, YEARS_AT_MOST):
        clocks = clocks_for(plan, years)
        network = build_network(plan, clocks)
        early = earliest(network)
        if max(early.finish, default=0.0) * 2 < clocks.timeline.end:
            break
    return network, early


def _conditions(network: Network, odds: Odds) -> dict[str, Condition]:
    """Return how each job stands; "expected" is the day of its even chance."""
    moment = network.clocks.timeline.moment
    even = odds.points[POINTS.index(50)]
    expected: dict[str, datetime | None] = {
        job: moment(float(even[number])) for job, number in network.index.items()
    }
    return {job.id: condition_of(job, network, expected) for job in network.plan.jobs}
