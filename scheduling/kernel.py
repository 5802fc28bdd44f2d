"""The simulation's inner loop: every node of every sample placed in time, in blocks.

Arrays are nodes x samples; each node is one row, worked out for all samples at once
from the rows before it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from scheduling.diaries import Hours, Stays
from scheduling.draws import Draw
from scheduling.flow import Flow
from scheduling.lengths import done_each, unbroken_each
from scheduling.many_moments import add_days_each, add_each, opening_each, worked_each
from scheduling.network import Arc, Network, Node, slot_vendor
from scheduling.sampled import Taken, Times
from scheduling.shared_plan import SharedPlan
from scheduling.timeline import PER_DAY, TINY
from scheduling.work import team_key
from scheduling.working_time import Clock

Floats = NDArray[np.float64]

PERSON = "person:"
TRIES = 50


class Kernel:
    """A network made ready for sampling; the flow says who comes first."""

    def __init__(self, network: Network, shared: SharedPlan, flow: Flow) -> None:
        self.network, self.flow = network, flow
        self.clocks = [
            _clock(network, node, shared.team[number] if flow.holds[number] else ())
            for number, node in enumerate(network.nodes)
        ]
        self._own = {
            name: network.clocks.of(frozenset({name}))
            for name in {
                one for held in flow.holds for one in held if one[:7] == PERSON
            }
        }
        self._seconds = {
            name for held in flow.holds for name in held[self._leads(held) :]
        }
        self._slots = {
            vendor: np.array(days, dtype=np.intp)
            for vendor, days in network.slots.items()
        }
        self._vendor = [slot_vendor(network, node) for node in network.nodes]

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
        times = Times([empty] * count, [empty] * count, [empty] * count, {})
        if base is not None:
            times = Times(
                list(base.finish), list(base.ready), list(base.start), dict(base.slot)
            )
        taken = Taken({}, {}, {})
        shared, left = self._names(only), len(only) if only is not None else count
        for number in self.flow.order:
            if not left:
                break
            left -= only is None or number in only
            if only is None or number in only:
                self._place(number, draws[number], times, taken)
            if only is None or not shared.isdisjoint(self._asks_for(number)):
                self._book(number, times, taken)
        return times

    def _asks_for(self, number: int) -> set[str]:
        vendor = self._vendor[number]
        return {*self.flow.holds[number], *([vendor] if vendor else [])}

    def _names(self, only: frozenset[int] | None) -> set[str]:
        return {name for number in only or () for name in self._asks_for(number)}

    def reached(self, number: int) -> frozenset[int]:
        """Return a node and all that its times can touch, by link or by hands."""
        found, names = {number}, self._asks_for(number)
        past = False
        for one in self.flow.order:
            past = past or one == number
            node = self.network.nodes[one]
            linked = any(arc.before in found for arc in node.before)
            if linked or (past and not names.isdisjoint(self._asks_for(one))):
                found.add(one)
                names |= self._asks_for(one)
        return frozenset(found)

    def needs(self, nodes: frozenset[int]) -> frozenset[int]:
        """Return all that can delay the given nodes, by link or by hands."""
        found, names = set(nodes), set[str]()
        for one in reversed(self.flow.order):
            if one in found or not names.isdisjoint(self._asks_for(one)):
                found.add(one)
                names |= self._asks_for(one)
                found.update(arc.before for arc in self.network.nodes[one].before)
        return frozenset(found)

    def _place(
        self, number: int, draws: tuple[Draw, ...], times: Times, taken: Taken
    ) -> None:
        node = self.network.nodes[number]
        size = len(draws[0].length)
        ready = np.full(size, node.release)
        late: Floats | None = None
        for arc in node.before:
            asked = self.asked(arc, times)
            if arc.kind == "by":
                late = asked if late is None else np.maximum(late, asked)
            else:
                np.maximum(ready, asked, out=ready)
        start = self._start(number, node, ready, draws, times, taken)
        start, finish = self._settle(number, node, start, draws, taken)
        if late is not None:
            finish = np.maximum(finish, late)
        times.ready[number], times.finish[number] = ready, finish
        times.start[number] = start

    def asked(self, arc: Arc, times: Times) -> Floats:
        """Return the earliest start (or finish, for "by") an arc allows."""
        source = times.start if arc.kind == "with" else times.finish
        moments = source[arc.before]
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
        draws: tuple[Draw, ...],
        times: Times,
        taken: Taken,
    ) -> Floats:
        vendor = self._vendor[number]
        if vendor and self._slots[vendor].size and node.work.promise is None:
            return self._slot_start(number, vendor, ready, times, taken)
        if node.work.job.unbroken and not node.begun and not node.work.in_days:
            return unbroken_each(self.clocks[number], ready, draws[0].length)
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
        times.slot[number] = k
        opens = opening_each(self.clocks[number], days[k].astype(np.float64) * PER_DAY)
        return np.maximum(opens, ready)

    def _settle(
        self,
        number: int,
        node: Node,
        start: Floats,
        draws: tuple[Draw, ...],
        taken: Taken,
    ) -> tuple[Floats, Floats]:
        """Return start and finish with people and places free, put down at need."""
        held = self.flow.holds[number]
        rest = held[self._leads(held) :]
        others = [taken.stays[one] for one in rest if one in taken.stays]
        finish = self._finish(number, node, start, draws, taken)
        for _ in range(TRIES):
            moved = False
            for stays in others:
                later = stays.free_from(start, finish)
                if later is not None:
                    start, moved = later, True
                    finish = self._finish(number, node, start, draws, taken)
            if not moved:
                break
        return start, finish

    @staticmethod
    def _leads(held: tuple[str, ...]) -> int:
        return 1 if held and held[0][:7] == PERSON else 0

    def _finish(
        self,
        number: int,
        node: Node,
        start: Floats,
        draws: tuple[Draw, ...],
        taken: Taken,
    ) -> Floats:
        held, work = self.flow.holds[number], node.work
        hours = taken.hours.get(held[0]) if self._leads(held) else None
        if hours and work.length > TINY and draws[0].finish is None:
            own = self._own[held[0]]
            begin = worked_each(own, start)
            end = hours.fit(begin, draws[0].length)
            paused = add_each(own, start, end - begin)
            if own is self.clocks[number]:
                return paused
            alone = done_each(work, self.clocks[number], start, draws[0])
            return np.maximum(paused, alone)
        finish = start
        for one, draw in zip(node.works, draws, strict=True):
            finish = np.maximum(
                finish, done_each(one, self.clocks[number], start, draw)
            )
        return finish

    def _book(self, number: int, times: Times, taken: Taken) -> None:
        start, finish = times.start[number], times.finish[number]
        held = self.flow.holds[number]
        for name in held:
            if name in self._seconds:
                taken.stays.setdefault(name, Stays()).take(start, finish)
            if name in self._own:
                own = self._own[name]
                taken.hours.setdefault(name, Hours()).take(
                    worked_each(own, start), worked_each(own, finish)
                )
        vendor = self._vendor[number]
        if vendor and number in times.slot:
            taken.slots.setdefault(vendor, []).append(times.slot[number])


def _clock(network: Network, node: Node, team: tuple[str, ...]) -> Clock:
    work = node.work
    return network.clocks.of(team_key(team, work.job)) if team else work.clock
