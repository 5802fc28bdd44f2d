"""Places every job of every sample in time: compiled, or as numpy rows.

Both ways give the same numbers, on one thread or several.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property, partial

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import PLAIN
from scheduling.flow import Flow
from scheduling.goals import Goal
from scheduling.network import Network, slot_vendor
from scheduling.sampling.chunk import CHUNK, blank_chunk
from scheduling.sampling.driving import driving
from scheduling.sampling.loops import run_range
from scheduling.sampling.node_arrays import node_arrays
from scheduling.sampling.node_records import BOOK, PLACE, SKIP
from scheduling.sampling.rows import RowKernel
from scheduling.sampling.times import Times, blank
from scheduling.shared_plan import SharedPlan
from scheduling.threads import THREADS, side_by_side

Floats = NDArray[np.float64]
Hits = NDArray[np.int64]


class Kernel:
    """A network made ready for sampling; the flow says who comes first."""

    def __init__(
        self,
        network: Network,
        shared: SharedPlan,
        flow: Flow,
        *,
        threads: int = THREADS,
        plain: bool = PLAIN,
    ) -> None:
        self.network, self.flow = network, flow
        self.threads, self.plain = threads, plain
        self.clocks = [
            node.work.clock_of(shared.team[number] if flow.holds[number] else ())
            for number, node in enumerate(network.nodes)
        ]
        self._nodes, self._clock_arrays = node_arrays(network, flow, self.clocks)
        counts = [0, *(len(node.works) for node in network.nodes)]
        self._first: list[int] = np.cumsum(counts).tolist()

    @cached_property
    def rows(self) -> RowKernel:
        """Return the way that needs no numba."""
        return RowKernel(self.network, self.flow, self.clocks)

    def works(self, number: int) -> slice:
        """Return the rows of `amounts` that belong to a node's jobs."""
        return slice(self._first[number], self._first[number + 1])

    def times_for(self, amounts: Floats) -> Times:
        """Return times not yet worked out, for drawn amounts (jobs x samples)."""
        slots = int((self._nodes.node["slot_row"] >= 0).sum())
        return blank(amounts, len(self.network.nodes), slots)

    def run(
        self,
        times: Times,
        goals: Sequence[Goal] = (),
        only: frozenset[int] | None = None,
        threads: int | None = None,
    ) -> Hits:
        """Work out the times of every node in every sample, in place.

        Parameters
        ----------
        times : Times
            Its `amounts` are read, the rest is written.
        goals : sequence of Goal
            What counts for the result.
        only : node numbers, optional
            Work out these alone; the other rows are taken as they are.
        threads : int, optional
            On how many threads, if not on the kernel's own number.

        Returns
        -------
        array of int, one per node
            Samples in which the node sets the date of some goal.
        """
        todo = self._todo(only)
        if self.plain:
            self.rows.run(times, todo)
            on = driving(self.rows, times, goals) if goals else []
            return np.array([one.sum() for one in on] or todo * 0, dtype=np.int64)
        ranges = _ranges(times.amounts.shape[1], threads or self.threads)
        hits = side_by_side(
            [partial(self._range, times, todo, goals, *span) for span in ranges]
        )
        return np.asarray(np.sum(hits, axis=0), dtype=np.int64)

    def _range(
        self,
        times: Times,
        todo: NDArray[np.int8],
        goals: Sequence[Goal],
        first: int,
        last: int,
    ) -> Hits:
        hits = np.zeros(len(self.network.nodes), dtype=np.int64)
        ends = [goal.ends for goal in goals]
        run_range(
            self._clock_arrays,
            self._nodes,
            times,
            todo,
            np.cumsum([0, *map(len, ends)], dtype=np.int32),
            np.array([one for row in ends for one in row], dtype=np.int32),
            hits,
            blank_chunk(len(hits), self._nodes.people, self._nodes.most_blocks),
            first,
            last,
        )
        return hits

    def _todo(self, only: frozenset[int] | None) -> NDArray[np.int8]:
        if only is None:
            return np.full(len(self.network.nodes), PLACE, dtype=np.int8)
        todo = np.full(len(self.network.nodes), SKIP, dtype=np.int8)
        names = {name for number in only for name in self._asks[number]}
        left = len(only)
        for number in self.flow.order:
            if not left:
                break
            if number in only:
                todo[number], left = PLACE, left - 1
            elif not names.isdisjoint(self._asks[number]):
                todo[number] = BOOK
        return todo

    @cached_property
    def _asks(self) -> list[frozenset[str]]:
        """Return the people, place units and vendor's slots each node asks for."""
        return [
            frozenset({*self.flow.names(number), slot_vendor(self.network, node) or ""})
            - {""}
            for number, node in enumerate(self.network.nodes)
        ]

    @cached_property
    def _waits(self) -> list[tuple[int, ...]]:
        """Return the nodes each node waits for by link."""
        nodes = self.network.nodes
        return [tuple([arc.before for arc in node.before]) for node in nodes]

    def reached(self, number: int) -> frozenset[int]:
        """Return a node and all that its times can touch, by link or by hands."""
        found, names = {number}, set(self._asks[number])
        past = False
        for one in self.flow.order:
            past = past or one == number
            linked = not found.isdisjoint(self._waits[one])
            if linked or (past and not names.isdisjoint(self._asks[one])):
                found.add(one)
                names |= self._asks[one]
        return frozenset(found)

    def needs(self, nodes: frozenset[int]) -> frozenset[int]:
        """Return all that can delay the given nodes, by link or by hands."""
        found, names = set(nodes), set[str]()
        for one in reversed(self.flow.order):
            if one in found or not names.isdisjoint(self._asks[one]):
                found.add(one)
                names |= self._asks[one]
                found.update(self._waits[one])
        return frozenset(found)


def _ranges(size: int, threads: int) -> list[tuple[int, int]]:
    """Return the samples each thread takes, whole chunks."""
    step = -(-size // (threads * CHUNK)) * CHUNK
    return [(low, min(low + step, size)) for low in range(0, size, step)]
