"""The simulation's inner loop: every node of every sample placed in time, in blocks.

Arrays are nodes x samples; each node is one row, worked out for all samples at once
from the rows before it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import networkx as nx
import numpy as np
from numpy.typing import NDArray

from scheduling.draws import Draw
from scheduling.flow import Flow
from scheduling.many_moments import add_days_each, add_each, opening_each
from scheduling.network import Arc, Network, Node, slot_vendor
from scheduling.shared_plan import SharedPlan
from scheduling.timeline import PER_DAY, TINY
from scheduling.work import Work, team_key
from scheduling.working_time import Clock

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

UNBROKEN_TRIES = 60


@dataclass(slots=True)
class Times:
    """`finish[n]` and `ready[n]` of every node; `start` only where a link needs it."""

    finish: list[Floats]
    ready: list[Floats]
    start: dict[int, Floats]
    slot: dict[int, NDArray[np.intp]]


class Kernel:
    """A network made ready for sampling; with a flow, resource limits hold."""

    def __init__(
        self, network: Network, shared: SharedPlan, flow: Flow | None = None
    ) -> None:
        self.network = network
        count = len(network.nodes)
        self.flow = flow or Flow(((),) * count, (None,) * count)
        self.clocks = [
            _clock(network, node, shared.team[number] if flow else ())
            for number, node in enumerate(network.nodes)
        ]
        self.order = self._in_order()
        self._followed = {
            arc.before
            for node in network.nodes
            for arc in node.before
            if arc.kind == "with"
        }
        self._slots = {
            vendor: np.array(days, dtype=np.intp)
            for vendor, days in network.slots.items()
        }

    def _in_order(self) -> list[int]:
        graph = self.network.graph()
        for number, before in enumerate(self.flow.before):
            graph.add_edges_from((one, number) for one in before)
        for number, one in enumerate(self.flow.slot_before):
            if one is not None:
                graph.add_edge(one, number)
        return list(nx.lexicographical_topological_sort(graph))

    def run(
        self,
        draws: Sequence[tuple[Draw, ...]],
        base: Times | None = None,
        only: frozenset[int] | None = None,
    ) -> Times:
        """Return the times of every node in one block of samples.

        Parameters
        ----------
        draws : per node, one `Draw` per job in it
        base, only
            Take all rows from `base` but those of `only`, which are worked out anew.
        """
        count = len(self.network.nodes)
        empty = np.empty(0)
        times = Times([empty] * count, [empty] * count, {}, {})
        if base is not None:
            times = Times(
                list(base.finish), list(base.ready), dict(base.start), dict(base.slot)
            )
        for number in self.order:
            if only is None or number in only:
                self._place(number, draws[number], times)
        return times

    def reached(self, number: int) -> frozenset[int]:
        """Return a node and all that follows it, by link or by hands."""
        found = {number}
        for one in self.order:
            node = self.network.nodes[one]
            if (
                any(arc.before in found for arc in node.before)
                or any(before in found for before in self.flow.before[one])
                or self.flow.slot_before[one] in found
            ):
                found.add(one)
        return frozenset(found)

    def _place(self, number: int, draws: tuple[Draw, ...], times: Times) -> None:
        node = self.network.nodes[number]
        size = len(draws[0].length)
        ready = np.full(size, node.release)
        late: Floats | None = None
        for arc in node.before:
            asked = self._asked(arc, times)
            if arc.kind == "by":
                late = asked if late is None else np.maximum(late, asked)
            else:
                np.maximum(ready, asked, out=ready)
        for before in self.flow.before[number]:
            np.maximum(ready, times.finish[before], out=ready)
        start = self._start(number, node, ready, draws, times)
        finish = self._finish(number, node, start, draws)
        if late is not None:
            finish = np.maximum(finish, late)
        times.ready[number], times.finish[number] = ready, finish
        if number in self._followed:
            times.start[number] = opening_each(self.clocks[number], start)

    def _asked(self, arc: Arc, times: Times) -> Floats:
        source = times.start if arc.kind == "with" else times.finish
        moments = source[arc.before] + arc.wait if arc.wait else source[arc.before]
        if arc.wait_days:
            days = np.full(len(moments), arc.wait_days)
            moments = add_days_each(self.network.clocks.shop(), moments, days)
        return moments

    def _start(
        self,
        number: int,
        node: Node,
        ready: Floats,
        draws: tuple[Draw, ...],
        times: Times,
    ) -> Floats:
        vendor = slot_vendor(self.network, node)
        if vendor and self._slots[vendor].size and node.work.promise is None:
            return self._slot_start(number, vendor, ready, times)
        if node.work.job.unbroken and not node.begun and not node.work.in_days:
            return _unbroken(self.clocks[number], ready, draws[0].length)
        return ready

    def _slot_start(
        self, number: int, vendor: str, ready: Floats, times: Times
    ) -> Floats:
        days = self._slots[vendor]
        k = np.searchsorted(days, ready // PER_DAY)
        before = self.flow.slot_before[number]
        if before is not None and before in times.slot:
            k = np.maximum(k, times.slot[before] + 1)
        k = np.minimum(k, len(days) - 1)
        times.slot[number] = k
        opens = opening_each(self.clocks[number], days[k].astype(np.float64) * PER_DAY)
        return np.maximum(opens, ready)

    def _finish(
        self, number: int, node: Node, start: Floats, draws: tuple[Draw, ...]
    ) -> Floats:
        finish: Floats | None = None
        for work, draw in zip(node.works, draws, strict=True):
            one = _done(work, self.clocks[number], start, draw)
            finish = one if finish is None else np.maximum(finish, one)
        return start if finish is None else finish

    def critical(self, times: Times, ends: Sequence[int]) -> list[Bools]:
        """Return for every node the samples in which it is on a driving chain.

        Parameters
        ----------
        ends : node numbers
            Nodes whose finish matters; in each sample only the last of them drives.
        """
        size = len(times.finish[0]) if times.finish else 0
        on = [np.zeros(size, dtype=bool) for _ in self.network.nodes]
        if ends:
            last = np.maximum.reduce([times.finish[number] for number in ends])
            for number in ends:
                on[number] |= times.finish[number] >= last - TINY
        self.trace(times, on)
        return on

    def trace(self, times: Times, on: list[Bools]) -> None:
        """Spread driving marks backward along what set each start, in place."""
        for number in reversed(self.order):
            here = on[number]
            if not here.any():
                continue
            ready = times.ready[number]
            for arc in self.network.nodes[number].before:
                asked = self._asked(arc, times)
                bar = times.finish[number] if arc.kind == "by" else ready
                on[arc.before] |= here & (asked >= bar - TINY)
            for before in self.flow.before[number]:
                on[before] |= here & (times.finish[before] >= ready - TINY)


def _clock(network: Network, node: Node, team: tuple[str, ...]) -> Clock:
    work = node.work
    return network.clocks.of(team_key(team, work.job)) if team else work.clock


def _done(work: Work, clock: Clock, start: Floats, draw: Draw) -> Floats:
    if draw.finish is not None:
        return np.maximum(start, draw.finish)
    if work.length <= TINY:
        return start
    if work.in_days:
        return add_days_each(work.clock, start, draw.length)
    return add_each(clock if work.teams else work.clock, start, draw.length)


def _unbroken(clock: Clock, ready: Floats, length: Floats) -> Floats:
    start = opening_each(clock, ready)
    first = start
    for _ in range(UNBROKEN_TRIES):
        finish = add_each(clock, start, length)
        runs = clock.runs
        last = len(runs) - 1
        began = runs[np.minimum(start // PER_DAY, last).astype(np.intp)]
        ended = runs[np.minimum((finish - TINY) // PER_DAY, last).astype(np.intp)]
        broken = began != ended
        if not broken.any():
            return start
        later = opening_each(clock, (start // PER_DAY + 1.0) * PER_DAY)
        start = np.where(broken, later, start)
    return np.where(broken, first, start)
