"""Earliest and latest times, float and the driving chain (CPM on calendars).

Kelley & Walker 1959, "Critical-path planning and scheduling" (from memory), with
working calendars, waits, start-to-start and finish-to-finish links, slots and
promised dates.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from scheduling.network import Arc, Network, Node
from scheduling.passes import asks, latest_ready, place, unwaited
from scheduling.timeline import TINY

FOREVER = float("inf")


@dataclass(frozen=True, slots=True)
class Early:
    """Earliest start and finish of every node; `driver` is what set its start."""

    start: tuple[float, ...]
    finish: tuple[float, ...]
    driver: tuple[int | None, ...]


@dataclass(frozen=True, slots=True)
class Late:
    """Latest start and finish of every node; infinite where nothing is waited for."""

    start: tuple[float, ...]
    finish: tuple[float, ...]


def earliest(network: Network) -> Early:
    """Return the forward pass.

    Parameters
    ----------
    network : Network

    Returns
    -------
    Early
        Quarters, one entry per node. Nothing starts before the status moment.

    Notes
    -----
    O(nodes + arcs).
    """
    starts: list[float] = []
    finishes: list[float] = []
    drivers: list[int | None] = []
    for node in network.nodes:
        ready, driver = node.release, None
        for arc in node.before:
            asked = asks(network, node, arc, starts[arc.before], finishes[arc.before])
            if asked > ready + TINY or (driver is None and asked > ready - TINY):
                ready, driver = max(asked, ready), arc.before
        start, finish = place(network, node, ready)
        starts.append(start)
        finishes.append(finish)
        drivers.append(driver)
    return Early(tuple(starts), tuple(finishes), tuple(drivers))


def latest(network: Network, targets: Mapping[int, float]) -> Late:
    """Return the backward pass from fixed latest finishes.

    Parameters
    ----------
    network : Network
    targets : mapping of node number to quarter
        Where the pass begins; nodes that no target waits for stay infinite.
    """
    count = len(network.nodes)
    finish = [targets.get(number, FOREVER) for number in range(count)]
    start = [FOREVER] * count
    for number in range(count - 1, -1, -1):
        node = network.nodes[number]
        for arc in node.after:
            bound = _bound(network, node, arc, finish, start)
            finish[number] = min(finish[number], bound)
        if finish[number] < FOREVER:
            start[number] = latest_ready(network, node, finish[number])
    return Late(tuple(start), tuple(finish))


def _bound(
    network: Network,
    node: Node,
    arc: Arc,
    finish: Sequence[float],
    start: Sequence[float],
) -> float:
    """Return the latest finish of a node that the follower on an arc can stand."""
    later = arc.before
    if start[later] == FOREVER:
        return FOREVER
    if arc.kind == "by":
        return unwaited(network, finish[later], arc)
    begins = unwaited(network, start[later], arc)
    if arc.kind == "after":
        return begins
    return max(one.finish(begins) for one in node.works)


def total_float(network: Network, number: int, early: Early, late: Late) -> float:
    """Return the quarters of its own working time a node can slip (inf: unbounded)."""
    if late.finish[number] == FOREVER:
        return FOREVER
    clock = network.nodes[number].work.clock
    return clock.worked(late.finish[number]) - clock.worked(early.finish[number])


def free_float(network: Network, number: int, early: Early, end: float) -> float:
    """Return the quarters a node can slip without moving any other node.

    Parameters
    ----------
    end : float
        Finish of the whole, for a node nothing waits for.
    """
    node = network.nodes[number]
    bounds = [
        _bound(network, node, arc, early.finish, early.start) for arc in node.after
    ]
    clock = node.work.clock
    limit = min(bounds, default=end)
    return max(0.0, clock.worked(limit) - clock.worked(early.finish[number]))


def driving_chain(early: Early, ends: Iterable[int]) -> list[int]:
    """Return the chain of nodes that sets the latest finish among `ends`, in order."""
    found = list(ends)
    if not found:
        return []
    at: int | None = max(found, key=lambda number: (early.finish[number], -number))
    chain: list[int] = []
    while at is not None:
        chain.append(at)
        at = early.driver[at]
    return chain[::-1]
