"""The order in which a plan hands over its people and places, as pairs of nodes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from scheduling.network import Network
from scheduling.shared_plan import SharedPlan

Pair = tuple[int, int]


def hand_overs(
    network: Network, shared: SharedPlan, among: Sequence[int]
) -> Iterator[Pair]:
    """Yield pairs of nodes of which the first gives something to the second.

    Notes
    -----
    Each unit of a place is followed from node to node like a person, the unit that
    has been free for the shortest time going first. Keeping these pairs in order keeps
    every limit among these nodes, whatever their times.
    """
    order = sorted(
        (one for one in among if shared.finish[one] > shared.start[one]),
        key=lambda one: (shared.start[one], one),
    )
    seen: set[Pair] = set()
    units = {place.id: [-1] * place.capacity for place in network.plan.places}
    last: dict[str, int] = {}
    for number in order:
        before = [last[one] for one in shared.team[number] if one in last]
        last.update(dict.fromkeys(shared.team[number], number))
        before += _places(network, shared, units, number)
        for one in before:
            if one >= 0 and (one, number) not in seen:
                seen.add((one, number))
                yield one, number


def _places(
    network: Network, shared: SharedPlan, units: dict[str, list[int]], number: int
) -> list[int]:
    """Return whom a node takes its units from; they are its own from then on."""
    node = network.nodes[number]
    found: list[int] = []
    for use in () if node.gone else node.uses:
        held = units[use.place]
        free = [
            unit
            for unit, one in enumerate(held)
            if one < 0 or shared.finish[one] <= shared.start[number]
        ]
        free.sort(key=lambda unit: -shared.finish[held[unit]] if held[unit] >= 0 else 1)
        for unit in free[: use.uses]:
            found.append(held[unit])
            held[unit] = number
    return found
