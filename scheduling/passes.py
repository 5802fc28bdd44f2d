"""How one node follows the nodes before it, forward and backward in time.

Everything that turns links, waits, slots and unbroken work into moments is here, so
that the critical path, the shared plan and nothing else decides it twice.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from scheduling.network import Arc, Network, Node, slot_vendor
from scheduling.timeline import PER_DAY, TINY
from scheduling.working_time import Clock

TRIES = 400


def waited(network: Network, moment: float, arc: Arc) -> float:
    """Return `moment` plus the wait of an arc."""
    moment += arc.wait
    if arc.wait_days:
        moment = network.clocks.shop().add_days(moment, arc.wait_days)
    return moment


def unwaited(network: Network, moment: float, arc: Arc) -> float:
    """Return the latest moment whose wait is over by `moment`."""
    if arc.wait_days:
        moment = network.clocks.shop().back_days(moment, arc.wait_days)
    return moment - arc.wait


def asks(network: Network, node: Node, arc: Arc, start: float, finish: float) -> float:
    """Return the earliest start an arc allows, from when its first node runs."""
    if arc.kind == "with":
        return waited(network, start, arc)
    reached = waited(network, finish, arc)
    return reached if arc.kind == "after" else node.work.latest_start(reached)


def slot_start(days: Sequence[int], clock: Clock, ready: float) -> float:
    """Return the start in the first slot on or after the day something is ready.

    Notes
    -----
    Past the written slots the last one stands: nothing is planned years ahead.
    """
    if not days:
        return clock.opening(ready)
    k = bisect_left(days, int(clock.opening(ready) // PER_DAY))
    day = days[min(k, len(days) - 1)]
    return max(clock.opening(float(day * PER_DAY)), ready)


def slot_latest(days: Sequence[int], clock: Clock, start: float) -> float:
    """Return the latest ready moment whose slot starts by `start`."""
    k = bisect_right(days, int(start // PER_DAY)) - 1
    if k < 0:
        return float(days[0] * PER_DAY) if days else start
    day = days[k]
    if int(start // PER_DAY) == day:
        return start
    return float((day + 1) * PER_DAY) - 1.0


def unbroken_start(clock: Clock, start: float, length: float) -> float | None:
    """Return the first start at or after `start` whose work meets no closed day."""
    for _ in range(TRIES):
        start = clock.opening(start)
        finish = clock.add(start, length)
        if clock.run(start) == clock.run(max(start, finish - TINY)):
            return start
        start = (start // PER_DAY + 1) * PER_DAY
    return None


def place(
    network: Network,
    node: Node,
    ready: float,
    clock: Clock | None = None,
    pace: float = 1.0,
) -> tuple[float, float]:
    """Return (start, finish) of a node that could start at `ready`.

    Parameters
    ----------
    ready : float
        Quarter from which nothing before it is in the way.
    clock : Clock, optional
        The clock of the people chosen; the node's own otherwise.
    pace : float
        Hours are multiplied by it.
    """
    start = ready
    work = node.work
    if work.promise is None and work.length > TINY:
        vendor = slot_vendor(network, node)
        if vendor:
            start = slot_start(network.slots[vendor], work.clock, ready)
        elif work.job.unbroken and not node.begun:
            used = clock or work.clock
            start = _or(unbroken_start(used, ready, work.length * pace), used, ready)
        else:
            start = (clock or work.clock).opening(ready)
    return start, max(one.finish(start, clock, pace) for one in node.works)


def _or(start: float | None, clock: Clock, ready: float) -> float:
    return clock.opening(ready) if start is None else start


def latest_ready(network: Network, node: Node, finish: float) -> float:
    """Return the latest ready moment of a node that must be finished by `finish`."""
    start = min(one.latest_start(finish) for one in node.works)
    vendor = slot_vendor(network, node)
    if vendor and node.work.length > TINY:
        return slot_latest(network.slots[vendor], node.work.clock, start)
    return start
