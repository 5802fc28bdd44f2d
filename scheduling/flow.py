"""Who comes first where hands, places and slots are shared, in every sample.

Jobs are taken in one fixed order: the cars with a show by the lead's order, then the
others, each car in the order of the shared plan. A job never waits for one that
comes after it in this order; it waits for, or is put down for, those before it. So
resource limits hold inside every sample without looking ahead. Where several people
could do a job, it goes to whoever would be through with it first at its usual length:
the plan is made anew every morning, and keeps no job for one who is busy.
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduling.goals import Due
from scheduling.loops import in_order
from scheduling.network import Network
from scheduling.shared_plan import SharedPlan
from scheduling.timeline import TINY
from scheduling.work import Team, Work


@dataclass(frozen=True, slots=True)
class Flow:
    """The order of nodes, and the people and place units each one holds.

    `hands` names all who could do a node alone, the plan's choice first; empty where
    the plan's choice stands.
    """

    order: tuple[int, ...]
    holds: tuple[tuple[str, ...], ...]
    hands: tuple[tuple[str, ...], ...]

    def names(self, number: int) -> tuple[str, ...]:
        """Return all that a node may hold."""
        return tuple(dict.fromkeys((*self.hands[number], *self.holds[number])))


def free_flow(network: Network) -> Flow:
    """Return the flow in which nobody waits for anybody."""
    count = len(network.nodes)
    return Flow(tuple(range(count)), ((),) * count, ((),) * count)


def resource_flow(network: Network, shared: SharedPlan, dues: tuple[Due, ...]) -> Flow:
    """Return the order and the resources of a shared plan.

    Notes
    -----
    O(nodes log nodes). The units of a place are told apart as ``booth#0`` ... in the
    order the plan hands them over.
    """
    dated = {due.build for due in dues}
    rank = {build.id: build.rank for build in network.plan.builds}

    def turn(number: int) -> tuple[bool, bool, int, float, int]:
        node = network.nodes[number]
        build = node.works[0].job.build or ""
        return (
            not node.begun,
            build not in dated,
            rank.get(build, 0),
            shared.start[number],
            number,
        )

    nodes = network.nodes
    by_turn = sorted(range(len(nodes)), key=turn)
    waits = {n: [arc.before for arc in nodes[n].before] for n in by_turn}
    order = tuple(in_order(waits))
    hands = (_hands(network, shared, number) for number in range(len(order)))
    return Flow(order, _held(network, shared), tuple(hands))


def _hands(network: Network, shared: SharedPlan, number: int) -> tuple[str, ...]:
    """Return who else could do a node alone, in the same hours, after the plan's."""
    node, team = network.nodes[number], shared.team[number]
    work = node.work
    if len(node.works) > 1 or node.begun or len(team) != 1 or work.length <= TINY:
        return ()
    others = [one for one in work.teams if one != team]
    able = [one for one in (team, *others) if _own_hours(network, work, one)]
    if len(able) < 2 or able[0] != team:
        return ()
    return tuple(f"person:{one[0]}" for one in able)


def _own_hours(network: Network, work: Work, team: Team) -> bool:
    """Return whether one person's hours alone set the pace of a job."""
    own = network.clocks.of(frozenset({f"person:{team[0]}"}))
    return len(team) == 1 and work.clock_of(team) is own


def _held(network: Network, shared: SharedPlan) -> tuple[tuple[str, ...], ...]:
    held: list[tuple[str, ...]] = [()] * len(network.nodes)
    units = {
        place.id: [(0.0, f"{place.id}#{one}") for one in range(place.capacity)]
        for place in network.plan.places
    }
    by_start = sorted(range(len(held)), key=lambda n: (shared.start[n], n))
    for number in by_start:
        node = network.nodes[number]
        if node.gone or shared.finish[number] <= shared.start[number]:
            continue
        found = [f"person:{one}" for one in shared.team[number]]
        for work in node.works:
            for use in work.job.places:
                free = sorted(units[use.place])
                taken = [(shared.finish[number], name) for _, name in free[: use.uses]]
                units[use.place] = taken + free[use.uses :]
                found += [name for _, name in taken]
        held[number] = tuple(dict.fromkeys(found))
    return tuple(held)
