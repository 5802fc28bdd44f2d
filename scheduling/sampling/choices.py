"""Who may hold a node, and who of them may do it alone."""

from __future__ import annotations

from scheduling.flow import Flow
from scheduling.network import Network
from scheduling.sampling.node_records import PERSON
from scheduling.shared_plan import pace_of


def leads(held: tuple[str, ...]) -> int:
    """Return 1 where the first held name is a person, whose hours set the pace."""
    return 1 if held and _is_person(held[0]) else 0


def _is_person(name: str) -> bool:
    return name.startswith(PERSON)


def people_of(flow: Flow) -> dict[str, int]:
    """Return the number of everyone whom some node may hold."""
    every = {one for number in flow.order for one in flow.names(number)}
    return {name: n for n, name in enumerate(sorted(filter(_is_person, every)))}


def choices(network: Network, flow: Flow, n: int) -> list[tuple[str, float]]:
    """Return who may do a node, the plan's choice first, and their pace to his."""
    held = flow.holds[n]
    if not flow.hands[n]:
        return [(one, 1.0) for one in held[: leads(held)]]
    work = network.nodes[n].work
    paces = [
        pace_of(network, work, (one.removeprefix(PERSON),)) for one in flow.hands[n]
    ]
    return [
        (one, pace / paces[0]) for one, pace in zip(flow.hands[n], paces, strict=True)
    ]
