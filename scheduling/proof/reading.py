"""From the solver's values back to a plan people can follow."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from scheduling.network import Network, Node
from scheduling.passes import waited
from scheduling.proof.model import Model
from scheduling.proof.solving import Found
from scheduling.shared_plan import SharedPlan, serial_plan
from scheduling.wishes import Cost, whole

LAST = 1e8  # nodes the solver was not asked about come after all others


def read(network: Network, model: Model, found: Found, given: SharedPlan) -> SharedPlan:
    """Return the plan the solver found; nodes it was not asked about as given."""
    shared = SharedPlan(
        list(given.start), list(given.finish), list(given.team), list(given.faults)
    )
    for number, one in model.nodes.items():
        if one.choice.frozen:
            continue
        team = next(
            team for team, literal in one.teams.items() if found.solver.value(literal)
        )
        start = int(found.solver.value(one.start))
        ends = [start + one.choice.length(start, team), one.choice.floor]
        for arc in network.nodes[number].before:
            if arc.kind == "by":
                ends.append(whole(waited(network, shared.finish[arc.before], arc)))
        shared.start[number] = float(start)
        shared.finish[number] = float(max(ends))
        shared.team[number] = team
    return shared


def tidied(
    network: Network,
    model: Model,
    shared: SharedPlan,
    cost: Callable[[SharedPlan], Cost],
) -> SharedPlan:
    """Return the same order of work with nothing later than it has to be.

    Notes
    -----
    Every node is placed again, in the order of its start and by the same people.
    Nodes outside the model follow. The plan is returned as it was if that is no worse
    and all of it came from the model.
    """
    priority = [LAST + start for start in shared.start]
    for number in model.nodes:
        priority[number] = shared.start[number]
    again = serial_plan(_settled(network, model, shared), priority)
    again.faults = list(shared.faults)
    if len(model.nodes) == len(network.nodes) and cost(shared) < cost(again):
        return shared
    return again


def _settled(network: Network, model: Model, shared: SharedPlan) -> Network:
    """Return the network with only the people chosen."""
    nodes = []
    for number, node in enumerate(network.nodes):
        works = node.works
        if number in model.nodes and shared.team[number]:
            team = (shared.team[number],)
            works = tuple(replace(one, teams=team) for one in works)
        nodes.append(Node(works, node.release, node.before, node.after))
    return replace(network, nodes=nodes)
