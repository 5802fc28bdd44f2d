"""The samples without numba: every node of every sample placed in time, row by row.

Arrays are nodes x samples; each node is one row, worked out for all samples at once
from the rows before it. `node_steps` does the same sample by sample.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from scheduling.flow import Flow
from scheduling.many_moments import add_days_each, add_each, opening_each, worked_each
from scheduling.network import Arc, Network, Node, slot_vendor
from scheduling.sampling.choices import choices, leads, people_of
from scheduling.sampling.diaries import NEVER, Hours, Stays
from scheduling.sampling.lengths import done_each, unbroken_each
from scheduling.sampling.node_kinds import slot_rows
from scheduling.sampling.node_records import BOOK, PLACE
from scheduling.sampling.times import Times
from scheduling.timeline import PER_DAY, TINY
from scheduling.working_time import Clock

Floats = NDArray[np.float64]

TRIES = 50


@dataclass(slots=True)
class Taken:
    """What one run has given away so far."""

    hours: dict[str, Hours] = field(default_factory=dict)
    stays: dict[str, Stays] = field(default_factory=dict)
    slots: dict[str, list[NDArray[np.int32]]] = field(default_factory=dict)


class RowKernel:
    """A network made ready for sampling row by row."""

    def __init__(self, network: Network, flow: Flow, clocks: list[Clock]) -> None:
        self.network, self.flow, self.clocks = network, flow, clocks
        self.people = people_of(flow)
        self.own = {name: network.clocks.of(frozenset({name})) for name in self.people}
        self.choices = [choices(network, flow, n) for n in range(len(network.nodes))]
        self.seconds = {name for held in flow.holds for name in held[leads(held) :]}
        self._slots = {
            vendor: np.array(days, dtype=np.intp)
            for vendor, days in network.slots.items()
        }
        self.vendor = [slot_vendor(network, node) for node in network.nodes]
        self._slot_row = slot_rows(network, flow)
        counts = [0, *(len(node.works) for node in network.nodes)]
        self._first = np.cumsum(counts).tolist()

    def run(self, times: Times, todo: NDArray[np.int8]) -> None:
        """Work out the nodes to be placed, in order, and book what they hold."""
        taken = Taken()
        for number in self.flow.order:
            if todo[number] == PLACE:
                self._place(number, times, taken)
            if todo[number] in (PLACE, BOOK):
                self._book(number, times, taken)

    def _amounts(self, number: int, times: Times) -> Floats:
        return times.amounts[self._first[number] : self._first[number + 1]]

    def _place(self, number: int, times: Times, taken: Taken) -> None:
        node = self.network.nodes[number]
        size = times.finish.shape[1]
        ready = np.full(size, node.release)
        late: Floats | None = None
        for arc in node.before:
            asked = self.asked(arc, times)
            if arc.kind == "by":
                late = asked if late is None else np.maximum(late, asked)
            else:
                np.maximum(ready, asked, out=ready)
        start = self._start(number, node, ready, times, taken)
        start, finish = self._settle(number, node, start, times, taken)
        if late is not None:
            finish = np.maximum(finish, late)
        times.ready[number], times.finish[number] = ready, finish
        times.start[number] = start

    def asked(self, arc: Arc, times: Times) -> Floats:
        """Return the earliest start (or finish, for "by") an arc allows."""
        source = times.start if arc.kind == "with" else times.finish
        moments: Floats = source[arc.before]
        if arc.kind == "with":
            moments = opening_each(self.clocks[arc.before], moments)
        if arc.wait:
            moments = moments + arc.wait
        if arc.wait_days:
            days = np.full(len(moments), arc.wait_days)
            moments = add_days_each(self.network.clocks.shop(), moments, days)
        return moments

    def _start(
        self,
        number: int,
        node: Node,
        ready: Floats,
        times: Times,
        taken: Taken,
    ) -> Floats:
        vendor = self.vendor[number]
        if vendor and number in self._slot_row:
            return self._slot_start(number, vendor, ready, times, taken)
        if node.work.job.unbroken and not node.begun and not node.work.in_days:
            length = self._amounts(number, times)[0]
            return unbroken_each(self.clocks[number], ready, length)
        return ready

    def _slot_start(
        self, number: int, vendor: str, ready: Floats, times: Times, taken: Taken
    ) -> Floats:
        days = self._slots[vendor]
        ready = opening_each(self.clocks[number], ready)
        k = np.searchsorted(days, ready // PER_DAY)
        gone = taken.slots.get(vendor, [])
        for _ in gone:
            for one in gone:
                k = k + (k == one)
        k = np.minimum(k, len(days) - 1)
        times.slot[self._slot_row[number]] = k
        opens = opening_each(self.clocks[number], days[k].astype(np.float64) * PER_DAY)
        return np.maximum(opens, ready)

    def _settle(
        self,
        number: int,
        node: Node,
        start: Floats,
        times: Times,
        taken: Taken,
    ) -> tuple[Floats, Floats]:
        """Return start and finish with people and places free, put down at need."""
        held = self.flow.holds[number]
        rest = held[leads(held) :]
        others = [taken.stays[one] for one in rest if one in taken.stays]
        finish = self._finish(number, node, start, times, taken)
        for _ in range(TRIES):
            moved = False
            for stays in others:
                later = stays.free_from(start, finish)
                if later is not None:
                    start, moved = later, True
                    finish = self._finish(number, node, start, times, taken)
            if not moved:
                break
        return start, finish

    def _finish(
        self,
        number: int,
        node: Node,
        start: Floats,
        times: Times,
        taken: Taken,
    ) -> Floats:
        work, amounts = node.work, self._amounts(number, times)
        finish = start
        if self.choices[number] and work.length > TINY and work.promise is None:
            finish = self._by_hand(number, amounts[0], start, times, taken)
            if self.own[self.choices[number][0][0]] is self.clocks[number]:
                return finish
        for one, amount in zip(node.works, amounts, strict=True):
            done = done_each(one, self.clocks[number], start, amount)
            finish = np.maximum(finish, done)
        return finish

    def _by_hand(
        self, number: int, amount: Floats, start: Floats, times: Times, taken: Taken
    ) -> Floats:
        """Return when the one who does a node is done; note who it is."""
        found = self.choices[number]
        if len(found) > 1:
            usual = np.full(len(start), self.network.nodes[number].work.length)
            ends = [self._put_down(one, usual, start, taken) for one in found]
            soonest = ends[0]
            times.who[number] = 0
            for at, end in enumerate(ends):
                sooner = end < soonest - TINY
                soonest = np.where(sooner, end, soonest)
                times.who[number][sooner] = at
        finish = self._put_down(found[0], amount, start, taken)
        for at, one in enumerate(found[1:], start=1):
            done = self._put_down(one, amount, start, taken)
            finish = np.where(times.who[number] == at, done, finish)
        return finish

    def _put_down(
        self, one: tuple[str, float], amount: Floats, start: Floats, taken: Taken
    ) -> Floats:
        """Return when one person is done who puts it down for every busy block."""
        (name, pace), own = one, self.own[one[0]]
        begin = worked_each(own, start)
        end = begin + amount * pace
        if name in taken.hours:
            end = taken.hours[name].fit(begin, amount * pace)
        return add_each(own, start, end - begin)

    def holding(self, number: int, name: str, times: Times) -> NDArray[np.bool_]:
        """Return the samples in which a node that may hold a name does."""
        if name in self.flow.hands[number]:
            at = self.flow.hands[number].index(name)
            return np.asarray(times.who[number] == at)
        return np.full(times.finish.shape[1], fill_value=True)

    def _book(self, number: int, times: Times, taken: Taken) -> None:
        for name in self.flow.names(number):
            here = self.holding(number, name, times)
            if not here.any():
                continue
            start = np.where(here, times.start[number], NEVER)
            finish = np.where(here, times.finish[number], -NEVER)
            if name in self.seconds:
                taken.stays.setdefault(name, Stays()).take(start, finish)
            if name in self.own:
                begin = worked_each(self.own[name], times.start[number])
                end = worked_each(self.own[name], times.finish[number])
                taken.hours.setdefault(name, Hours()).take(
                    np.where(here, begin, NEVER), np.where(here, end, -NEVER)
                )
        vendor = self.vendor[number]
        if vendor and number in self._slot_row:
            row = times.slot[self._slot_row[number]]
            taken.slots.setdefault(vendor, []).append(row)
