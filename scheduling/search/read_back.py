"""From what compiled code has placed back to a shared plan."""

from __future__ import annotations

from collections.abc import Sequence

from scheduling.network import Network
from scheduling.search.arrays import Placed
from scheduling.search.decoder import NO_ROOM, NO_SLOT, NOBODY
from scheduling.shared_plan import SharedPlan
from scheduling.short import no_room, no_slot, nobody
from scheduling.work import Team


def plan_from(network: Network, placed: Placed, teams: Sequence[Team]) -> SharedPlan:
    """Return a shared plan; `teams` is the team behind each team number."""
    shared = SharedPlan(
        placed.start.tolist(),
        placed.finish.tolist(),
        [teams[number] if number >= 0 else () for number in placed.team.tolist()],
    )
    short = placed.short.tolist()
    for number in placed.turn.tolist():
        work = network.nodes[number].work
        if short[number] & NOBODY:
            shared.faults.append(nobody(work))
        if short[number] & NO_ROOM:
            shared.faults.append(no_room(work))
        if short[number] & NO_SLOT:
            shared.faults.append(no_slot(work))
    return shared
