"""A network and its order of precedence as arrays that compiled loops can read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scheduling.clock_tables import ClockTables
from scheduling.flow import Flow
from scheduling.network import Network, Node, slot_vendor
from scheduling.sampling.clock_arrays import ClockArrays, arrays_of
from scheduling.timeline import TINY
from scheduling.work import Work

Floats = NDArray[np.float64]
Ints = NDArray[np.int32]

PERSON = "person:"
AFTER, WITH, BY = 0, 1, 2
AT_READY, AT_SLOT, UNBROKEN = 0, 1, 2
NOTHING, PROMISED, DAYS, HOURS = 0, 1, 2, 3
SKIP, BOOK, PLACE = 0, 1, 2
ARC_KIND = {"after": AFTER, "with": WITH, "by": BY}


class NodeArrays(NamedTuple):
    """Nodes as rows. A name ending in `_off` gives where each node's part begins.

    `clock`, `work_clock`, `person_clock` and `shop` are rows of the `ClockArrays`.
    `lead` is the person whose hours set the pace, or -1; `lead_only`: and nothing and
    nobody else does. `stay` are nodes that come
    first in a place or with a second person, in groups by name; `slot_before` those
    that take a slot of the same vendor first; `user` those that hold the same person
    or place unit first.
    """

    order: Ints
    release: Floats
    clock: Ints
    begins: Ints
    arc_off: Ints
    arc_from: Ints
    arc_kind: Ints
    arc_wait: Floats
    arc_days: Floats
    work_off: Ints
    work_kind: Ints
    work_clock: Ints
    lead: Ints
    lead_only: NDArray[np.bool_]
    hold_off: Ints
    hold: Ints
    person_clock: Ints
    most_blocks: int
    group_off: Ints
    stay_off: Ints
    stay: Ints
    slot_row: Ints
    slot_off: Ints
    slot_day: Ints
    slot_before_off: Ints
    slot_before: Ints
    user_off: Ints
    user: Ints
    shop: int


class _Clocks:
    """Numbers clocks as they are met."""

    def __init__(self) -> None:
        self.found: list[ClockTables] = []
        self._number: dict[int, int] = {}

    def number(self, clock: ClockTables) -> int:
        """Return the row of a clock."""
        if id(clock) not in self._number:
            self._number[id(clock)] = len(self.found)
            self.found.append(clock)
        return self._number[id(clock)]


def leads(held: tuple[str, ...]) -> int:
    """Return 1 where the first held name is a person, whose hours set the pace."""
    return 1 if held and held[0].startswith(PERSON) else 0


def node_arrays(
    network: Network, flow: Flow, clocks: Sequence[ClockTables]
) -> tuple[NodeArrays, ClockArrays]:
    """Return a network as arrays, and the clocks they number.

    Parameters
    ----------
    clocks : per node, the clock its work runs on

    Notes
    -----
    O(nodes + arcs + pairs of nodes that hold the same thing).
    """
    known, nodes = _Clocks(), network.nodes
    people = sorted({one for held in flow.holds for one in held if leads((one,))})
    person = {name: number for number, name in enumerate(people)}
    works = [(number, work) for number, node in enumerate(nodes) for work in node.works]
    slot_days, slot_before = _slots(network, flow)
    stays, groups = _stays(flow)
    rows = slot_rows(network, flow)
    held = [[person[one] for one in row if one in person] for row in flow.holds]
    holds = _ints(one for row in held for one in row)
    arrays = NodeArrays(
        order=_ints(flow.order),
        release=np.array([node.release for node in nodes]),
        clock=_ints(known.number(clock) for clock in clocks),
        begins=_ints(begins(network, node) for node in nodes),
        arc_off=_offsets(node.before for node in nodes),
        arc_from=_ints(arc.before for node in nodes for arc in node.before),
        arc_kind=_ints(ARC_KIND[arc.kind] for node in nodes for arc in node.before),
        arc_wait=np.array([arc.wait for node in nodes for arc in node.before]),
        arc_days=np.array([arc.wait_days for node in nodes for arc in node.before]),
        work_off=_offsets(node.works for node in nodes),
        work_kind=_ints(_kind(work) for _, work in works),
        work_clock=_ints(
            known.number(_work_clock(work, clocks[number])) for number, work in works
        ),
        lead=_ints(
            person[names[0]] if leads(names) and _kind(node.work) == HOURS else -1
            for node, names in zip(nodes, flow.holds, strict=True)
        ),
        lead_only=np.array(
            [
                bool(leads(names)) and network.clocks.of(frozenset({names[0]})) is clock
                for names, clock in zip(flow.holds, clocks, strict=True)
            ],
            dtype=bool,
        ),
        hold_off=_offsets(held),
        hold=holds,
        person_clock=_ints(
            known.number(network.clocks.of(frozenset({name}))) for name in people
        ),
        most_blocks=int(np.bincount(holds, minlength=1).max()) + 1,
        group_off=groups,
        stay_off=_offsets(stays),
        stay=_ints(one for group in stays for one in group),
        slot_row=_ints(rows.get(number, -1) for number in range(len(nodes))),
        slot_off=_offsets(slot_days),
        slot_day=_ints(day for days in slot_days for day in days),
        slot_before_off=_offsets(slot_before),
        slot_before=_ints(one for row in slot_before for one in row),
        shop=known.number(network.clocks.shop()),
        **_users(flow),
    )
    return arrays, arrays_of(known.found)


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


def _kind(work: Work) -> int:
    if work.promise:
        return PROMISED
    if work.length <= TINY:
        return NOTHING
    return DAYS if work.in_days else HOURS


def _work_clock(work: Work, clock: ClockTables) -> ClockTables:
    return clock if work.teams and not work.in_days else work.clock


def _slots(network: Network, flow: Flow) -> tuple[list[Sequence[int]], list[list[int]]]:
    """Return for each node its vendor's slot days and who takes one first."""
    days: list[Sequence[int]] = [() for _ in network.nodes]
    before: list[list[int]] = [[] for _ in network.nodes]
    met: dict[str, list[int]] = {}
    for number in flow.order:
        node = network.nodes[number]
        if begins(network, node) == AT_SLOT:
            vendor = slot_vendor(network, node) or ""
            days[number] = network.slots[vendor]
            before[number] = list(met.setdefault(vendor, []))
            met[vendor].append(number)
    return days, before


def _stays(flow: Flow) -> tuple[list[list[int]], Ints]:
    """Return the groups of earlier stays, and where each node's groups begin."""
    met: dict[str, list[int]] = {}
    found: list[list[list[int]]] = [[] for _ in flow.holds]
    for number in flow.order:
        held = flow.holds[number]
        found[number] = [list(met.get(one, ())) for one in held[leads(held) :]]
        for name in held:
            met.setdefault(name, []).append(number)
    return [group for groups in found for group in groups], _offsets(found)


def _users(flow: Flow) -> dict[str, Ints]:
    """Return who holds each node's people and places before it does."""
    met: dict[str, list[int]] = {}
    found: list[list[int]] = [[] for _ in flow.holds]
    for number in flow.order:
        for name in flow.holds[number]:
            found[number] += met.setdefault(name, [])
            met[name].append(number)
    return {
        "user_off": _offsets(found),
        "user": _ints(one for row in found for one in row),
    }


def _ints(values: Iterable[int]) -> Ints:
    return np.fromiter(values, dtype=np.int32)


def _offsets(rows: Iterable[Sequence[object]]) -> Ints:
    return np.cumsum([0, *(len(row) for row in rows)], dtype=np.int32)
