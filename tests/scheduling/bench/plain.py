"""The plain way: a Python loop over samples and over a networkx graph's nodes."""

from bisect import insort
from collections import defaultdict
from random import Random
from typing import Any

import networkx as nx

from tests.scheduling.bench.clock import DAY, TINY, PlainClock
from tests.scheduling.bench.lengths import Lengths

Draws = list[list[tuple[float, float | None]]]


class PlainLoop:
    """The same network, order, people, places and slots as the engine's kernel."""

    def __init__(self, kernel: Any, shared: Any) -> None:
        self.network, self.flow = kernel.network, kernel.flow
        self.made: dict[int, PlainClock] = {}
        self.clocks = [self._plain(one) for one in kernel.clocks]
        for node in self.network.nodes:
            for work in node.works:
                self._plain(work.clock)
        self.shop = self._plain(self.network.clocks.shop())
        self.own = {name: self._plain(one) for name, one in kernel.rows.own.items()}
        self.seconds, self.vendor = kernel.rows.seconds, kernel.rows.vendor
        self.choices = kernel.rows.choices
        self.lengths = Lengths(kernel, shared, self.made)
        self.graph = self.network.graph()
        last: dict[str, int] = {}
        for number in self.flow.order:
            vendor = self.vendor[number]
            for name in (*self.flow.names(number), *([vendor] if vendor else [])):
                if name in last:
                    self.graph.add_edge(last[name], number)
                last[name] = number

    def _plain(self, clock: Any) -> PlainClock:
        if id(clock) not in self.made:
            self.made[id(clock)] = PlainClock(clock)
        return self.made[id(clock)]

    def sample(self, random: Random) -> Draws:
        return self.lengths.sample(random)

    def run(self, draws: Draws) -> tuple[list[int], list[float], ...]:
        """Return the order, and ready, start and finish of every node."""
        count = len(self.network.nodes)
        ready, start, finish = [0.0] * count, [0.0] * count, [0.0] * count
        self.busy: Any = defaultdict(list)
        self.stays: Any = defaultdict(list)
        self.gone: Any = defaultdict(set)
        self.lead: dict[int, str] = {}
        order = list(nx.topological_sort(self.graph))
        for number in order:
            node = self.network.nodes[number]
            moment, late = node.release, 0.0
            for arc in node.before:
                asked = self.asked(arc, start, finish)
                if arc.kind == "by":
                    late = max(late, asked)
                else:
                    moment = max(moment, asked)
            ready[number] = moment
            begin = self._begin(number, node, moment, draws[number])
            begin, end = self._settle(number, node, begin, draws[number])
            start[number], finish[number] = begin, max(end, late)
            self._book(number, begin, finish[number])
        return order, ready, start, finish

    def asked(self, arc: Any, start: list[float], finish: list[float]) -> float:
        moment = finish[arc.before]
        if arc.kind == "with":
            moment = self.clocks[arc.before].opening(start[arc.before])
        moment += arc.wait
        return self.shop.add_days(moment, arc.wait_days) if arc.wait_days else moment

    def _begin(self, number: int, node: Any, ready: float, draws: Any) -> float:
        vendor, clock = self.vendor[number], self.clocks[number]
        days = self.network.slots[vendor] if vendor else ()
        if days and node.work.promise is None:
            taken = self.gone[vendor]
            free = (one for one in days if one >= ready // DAY and one not in taken)
            day = next(free, days[-1])
            taken.add(day)
            return max(clock.opening(day * DAY), ready)
        if node.work.job.unbroken and not node.begun and not node.work.in_days:
            return unbroken(clock, ready, draws[0][0])
        return ready

    def _settle(
        self, number: int, node: Any, start: float, draws: Any
    ) -> tuple[float, float]:
        held = self.flow.holds[number]
        rest = held[1:] if held and held[0].startswith("person:") else held
        while True:
            finish = self._finish(number, node, start, draws)
            again = start
            for name in rest:
                for began, ended in self.stays[name]:
                    if (
                        began < finish - TINY
                        and ended > again + TINY
                        and finish > again
                    ):
                        again = ended
            if again <= start:
                return start, finish
            start = again

    def _finish(self, number: int, node: Any, start: float, draws: Any) -> float:
        work, paused = node.work, start
        if self.choices[number] and work.length > TINY and draws[0][1] is None:
            found = self.choices[number]
            name, pace = found[0]
            if len(found) > 1:
                name, pace = min(
                    found,
                    key=lambda one: self._put_down(one[0], start, work.length * one[1]),
                )
            self.lead[number] = name
            paused = self._put_down(name, start, draws[0][0] * pace)
            if self.flow.hands[number]:
                return paused
        works = zip(node.works, draws, strict=True)
        done = max(self._done(number, work, start, draw) for work, draw in works)
        return max(paused, done)

    def _put_down(self, name: str, start: float, length: float) -> float:
        """Return when one person is done who puts it down for what came first."""
        own = self.own[name]
        begin = own.worked(start)
        end = begin + length
        for began, ended in self.busy[name]:
            if began < end and ended > begin:
                end += ended - max(began, begin)
        return own.add(start, end - begin)

    def _holds(self, number: int) -> list[str]:
        """Return what a node holds in this sample."""
        hands = self.flow.hands[number]
        rest = [one for one in self.flow.holds[number] if one not in hands]
        return [self.lead[number], *rest] if hands else rest

    def _done(self, number: int, work: Any, start: float, draw: Any) -> float:
        length, promised = draw
        if promised is not None:
            return max(start, promised)
        if work.length <= TINY:
            return start
        clock = self.made[id(work.clock)]
        if work.in_days:
            return clock.add_days(start, length)
        return (self.clocks[number] if work.teams else clock).add(start, length)

    def _book(self, number: int, start: float, finish: float) -> None:
        for name in self._holds(number):
            if name in self.seconds:
                self.stays[name].append((start, finish))
            if name in self.own:
                own = self.own[name]
                self.busy[name] = swallowed(
                    self.busy[name], own.worked(start), own.worked(finish)
                )

    def traced(self, ends: list[tuple[int, ...]], times: Any) -> set[int]:
        """Return the nodes that set some goal's date in this sample."""
        finish = times[3]
        on: set[int] = set()
        for goal in ends:
            last = max((finish[one] for one in goal), default=0.0)
            on |= {one for one in goal if finish[one] >= last - TINY}
        users: Any = defaultdict(list)
        for number in times[0]:
            for name in self._holds(number):
                users[name].append(number)
        for number in reversed(times[0]):
            for name in self._holds(number):
                users[name].pop()
            if number in on:
                on |= self._drivers(number, times, users)
        return on

    def _drivers(self, number: int, times: Any, users: Any) -> set[int]:
        _, ready, start, finish = times
        found = set()
        for arc in self.network.nodes[number].before:
            bar = finish[number] if arc.kind == "by" else ready[number]
            if self.asked(arc, start, finish) >= bar - TINY:
                found.add(arc.before)
        for name in self._holds(number):
            for one in users[name]:
                if finish[one] > ready[number] and start[one] < finish[number]:
                    found.add(one)
        return found


def swallowed(
    blocks: list[tuple[float, float]], begin: float, end: float
) -> list[tuple[float, float]]:
    """Return the blocks with begin..end added, those it meets made part of it."""
    kept = []
    for block in blocks:
        if block[0] <= end and block[1] >= begin:
            begin, end = min(begin, block[0]), max(end, block[1])
        else:
            kept.append(block)
    insort(kept, (begin, end))
    return kept


def unbroken(clock: PlainClock, ready: float, length: float) -> float:
    """Return the first start whose work meets no closed day, if there is one."""
    first = start = clock.opening(ready)
    for _ in range(60):
        finish = clock.add(start, length)
        if clock.run(start) == clock.run(finish - TINY):
            return start
        start = clock.opening((start // DAY + 1.0) * DAY)
    return first
