"""What has to be ready: readiness levels of every car, and the shows that want them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from scheduling.network import Network
from scheduling.plan import Plan, Show


@dataclass(frozen=True, slots=True)
class Goal:
    """A car at a level: `nodes` are all that is needed, `ends` those none ends after.

    The levels of one car are nested: each needs all that the lower ones need.
    """

    build: str | None
    level: str
    nodes: frozenset[int]
    ends: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Due:
    """A show entry: the goal wanted, and the quarter of the move-in."""

    show: str
    build: str
    level: str
    move_in: float


def goals_of(network: Network) -> dict[tuple[str | None, str], Goal]:
    """Return the goal of every car and level, lowest level first.

    Notes
    -----
    A job with no level is needed for the top level. Jobs of no car form a car of
    their own under None.
    """
    plan = network.plan
    rank = {level: place for place, level in enumerate(plan.levels)}
    top = len(plan.levels) - 1
    members: dict[str | None, list[list[int]]] = {
        build.id: [[] for _ in plan.levels]
        for build in plan.builds
        if not build.left_out
    }
    for number, node in enumerate(network.nodes):
        for work in node.works:
            job = work.job
            if job.build is None:
                members.setdefault(None, [[] for _ in plan.levels])
            if job.build in members:
                place = rank[job.level] if job.level else top
                members[job.build][place].append(number)
    goals: dict[tuple[str | None, str], Goal] = {}
    for build, by_level in members.items():
        found: set[int] = set()
        for level, numbers in zip(plan.levels, by_level, strict=True):
            found |= network.ancestors(numbers)
            nodes = frozenset(found)
            goals[build, level] = Goal(build, level, nodes, _ends(network, nodes))
    return goals


def _ends(network: Network, nodes: Iterable[int]) -> tuple[int, ...]:
    kept = set(nodes)
    return tuple(
        sorted(
            number
            for number in kept
            if not any(
                arc.before in kept and arc.kind != "with"
                for arc in network.nodes[number].after
            )
        )
    )


def shows_ahead(plan: Plan) -> tuple[Show, ...]:
    """Return the shows that still ask for a car: in the plan, move-in not yet past."""
    return tuple(
        show for show in plan.shows if not show.left_out and show.move_in >= plan.now
    )


def dues_of(network: Network) -> tuple[Due, ...]:
    """Return every entry of every show to come, in date order."""
    plan = network.plan
    top = plan.levels[-1]
    gone = {build.id for build in plan.builds if build.left_out}
    found = [
        Due(
            show.id,
            entry.build,
            entry.level or top,
            network.clocks.timeline.quarter(show.move_in),
        )
        for show in shows_ahead(plan)
        for entry in show.entries
        if entry.build not in gone
    ]
    return tuple(sorted(found, key=lambda due: due.move_in))


def wanted(plan: Plan, dues: Iterable[Due]) -> dict[str | None, str]:
    """Return the level each car is driven to: its first show's, else the top."""
    levels: dict[str | None, str] = {None: plan.levels[-1]}
    levels.update({build.id: plan.levels[-1] for build in plan.builds})
    for due in reversed(tuple(dues)):
        levels[due.build] = due.level
    return levels
