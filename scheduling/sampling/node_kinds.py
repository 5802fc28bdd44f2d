"""What sets when a node begins, and when its jobs are done."""

from __future__ import annotations

from scheduling.clock_tables import ClockTables
from scheduling.flow import Flow
from scheduling.network import Network, Node, slot_vendor
from scheduling.sampling.node_records import (
    AT_READY,
    AT_SLOT,
    DAYS,
    HOURS,
    NOTHING,
    PROMISED,
    UNBROKEN,
)
from scheduling.timeline import TINY
from scheduling.work import Work


def slot_rows(network: Network, flow: Flow) -> dict[int, int]:
    """Return the row of every node that needs a slot, in the order of precedence."""
    found = [n for n in flow.order if begins(network, network.nodes[n]) == AT_SLOT]
    return {number: row for row, number in enumerate(found)}


def begins(network: Network, node: Node) -> int:
    """Return what sets a node's start besides what it waits for."""
    vendor = slot_vendor(network, node)
    if vendor and network.slots[vendor] and node.work.promise is None:
        return AT_SLOT
    if node.work.job.unbroken and not node.begun and not node.work.in_days:
        return UNBROKEN
    return AT_READY


def kind_of(work: Work) -> int:
    """Return what sets when a job is done."""
    if work.promise:
        return PROMISED
    if work.length <= TINY:
        return NOTHING
    return DAYS if work.in_days else HOURS


def clock_of(work: Work, clock: ClockTables) -> ClockTables:
    """Return when a job goes on, in a node that goes on by `clock`."""
    return clock if work.teams and not work.in_days else work.clock
