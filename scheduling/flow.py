"""The order in which a plan hands people, places and slots from job to job.

Keeping this order inside every sample is what makes resource limits hold there: a
partial-order schedule (Policella et al. 2004, "Generating robust schedules through
temporal flexibility", from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

from scheduling.network import Network, slot_vendor
from scheduling.shared_plan import SharedPlan


@dataclass(frozen=True, slots=True)
class Flow:
    """Who hands over to whom.

    `before[n]`: nodes whose hands or places node n takes over; `slot_before[n]`: the
    node that has the slot before n's at the same vendor.
    """

    before: tuple[tuple[int, ...], ...]
    slot_before: tuple[int | None, ...]


def resource_flow(network: Network, shared: SharedPlan) -> Flow:
    """Return who takes over from whom in a shared plan.

    Notes
    -----
    O(nodes log nodes). A place's units are handed over one by one, from the unit
    that has been free longest.
    """
    count = len(network.nodes)
    before: list[set[int]] = [set() for _ in range(count)]
    slot_before: list[int | None] = [None] * count
    order = sorted(range(count), key=lambda n: (shared.start[n], shared.finish[n], n))
    person: dict[str, int] = {}
    slot: dict[str, int] = {}
    units: dict[str, list[tuple[float, int | None]]] = {
        place.id: [(0.0, None)] * place.capacity for place in network.plan.places
    }
    for number in order:
        node = network.nodes[number]
        vendor = slot_vendor(network, node)
        if vendor:
            slot_before[number] = slot.get(vendor)
            slot[vendor] = number
        if node.gone or shared.finish[number] <= shared.start[number]:
            continue
        for one in shared.team[number]:
            if one in person:
                before[number].add(person[one])
            person[one] = number
        for work in node.works:
            for use in work.job.places:
                before[number] |= _hand_over(units[use.place], use.uses, number, shared)
    return Flow(tuple(tuple(sorted(one)) for one in before), tuple(slot_before))


def _hand_over(
    units: list[tuple[float, int | None]], uses: int, number: int, shared: SharedPlan
) -> set[int]:
    units.sort(key=lambda unit: unit[0])
    came = {one for _, one in units[:uses] if one is not None and one != number}
    units[:uses] = [(shared.finish[number], number)] * uses
    return came
