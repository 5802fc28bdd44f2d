"""How soon every node could be done if nobody else wanted the same people and places.

Unlike the critical path it asks of each team what the shared plan would: its own
hours and pace, whole quarters. So no shared plan is sooner, quick hands included.
"""

from __future__ import annotations

from scheduling.network import Network, Node, slot_vendor
from scheduling.passes import asks, slot_start, unbroken_start, waited
from scheduling.shared_plan import SharedPlan, pace_of
from scheduling.timeline import TINY
from scheduling.wishes import whole
from scheduling.work import Team


def soonest(
    network: Network, shared: SharedPlan | None = None
) -> tuple[list[int], list[int]]:
    """Return a lower bound of every start and every finish, in whole quarters.

    Parameters
    ----------
    shared : SharedPlan, optional
        Work under way that nothing holds stays as it is here.

    Notes
    -----
    O(nodes x teams + arcs). A node nobody could ever do counts as done at once.
    """
    starts: list[int] = []
    finishes: list[int] = []
    for number, node in enumerate(network.nodes):
        if shared and frozen(node):
            starts.append(whole(shared.start[number]))
            finishes.append(whole(shared.finish[number]))
            continue
        start, finish = _soonest(network, node, starts, finishes)
        starts.append(start)
        finishes.append(finish)
    return starts, finishes


def _soonest(
    network: Network, node: Node, starts: list[int], finishes: list[int]
) -> tuple[int, int]:
    asked = [
        asks(network, node, arc, starts[arc.before], finishes[arc.before])
        for arc in node.before
    ]
    ready = whole(max([node.release, *asked]))
    ways = [
        found
        for team in node.work.teams or ((),)
        if (found := first_way(network, node, team, ready))
    ]
    holds = [
        whole(waited(network, finishes[arc.before], arc))
        for arc in node.before
        if arc.kind == "by"
    ]
    start = min((way[0] for way in ways), default=ready)
    finish = min((way[1] for way in ways), default=ready)
    return start, max([finish, *holds])


def frozen(node: Node) -> bool:
    """Return whether a node goes on as it stands: under way, and nothing holds it."""
    return node.begun and not node.before


def instant(node: Node) -> bool:
    """Return whether a node takes no work of anybody here: it starts when it may."""
    return node.gone or node.work.length <= TINY or node.work.promise is not None


def floor_of(node: Node) -> int:
    """Return the finish that dates promised ask for."""
    if node.gone:
        return 0
    dues = [one.promise.due for one in node.works if one.promise]
    return max((whole(due) for due in dues), default=0)


def first_way(
    network: Network, node: Node, team: Team, ready: int
) -> tuple[int, int] | None:
    """Return the earliest start and finish of one team, if there is any."""
    if instant(node):
        return ready, max(ready, floor_of(node))
    clock, length = node.work.clock_of(team), length_of(network, node, team)
    if not clock.ever_open:
        return None
    vendor = slot_vendor(network, node)
    start: float | None
    if vendor:
        start = slot_start(network.slots[vendor], clock, ready)
    elif unbroken(node):
        start = unbroken_start(clock, ready, length)
    else:
        start = clock.opening(ready)
    if start is None:
        return None
    done = [
        clock.add(start, length) if one.teams else one.finish(start)
        for one in node.works
    ]
    return whole(start), whole(max(done))


def length_of(network: Network, node: Node, team: Team) -> float:
    """Return the quarters of work it is for a team."""
    return node.work.length * pace_of(network, node.work, team)


def unbroken(node: Node) -> bool:
    """Return whether the work may meet no closed day."""
    work = node.work
    return work.job.unbroken and not node.begun and not work.in_days
