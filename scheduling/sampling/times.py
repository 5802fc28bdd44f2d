"""What one run of the simulation reads and writes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


class Times(NamedTuple):
    """Arrays of jobs (`amounts`), nodes, or nodes that need a slot, x samples.

    `amounts` are drawn lengths, or moments of return where promised. `ready` is when
    nothing before a node is in the way, `start` when it takes hold of its people and
    places; `slot` which of its vendor's slots it takes; `who` which of
    those who could does it (0: as planned).
    """

    amounts: Floats
    ready: Floats
    start: Floats
    finish: Floats
    slot: NDArray[np.int32]
    who: NDArray[np.int32]

    def first(self, count: int) -> Times:
        """Return a copy of the first samples only."""
        return Times(
            self.amounts[:, :count].copy(),
            self.ready[:, :count].copy(),
            self.start[:, :count].copy(),
            self.finish[:, :count].copy(),
            self.slot[:, :count].copy(),
            self.who[:, :count].copy(),
        )

    def put_back(self, other: Times, works: slice, nodes: Iterable[int]) -> None:
        """Write another's first numbers over those of some jobs and nodes.

        `works` are rows of `amounts`; slots are written for all.
        """
        size = self.amounts.shape[1]
        self.amounts[works] = other.amounts[works, :size]
        self.slot[:] = other.slot[:, :size]
        for row in nodes:
            self.ready[row] = other.ready[row, :size]
            self.start[row] = other.start[row, :size]
            self.finish[row] = other.finish[row, :size]
            self.who[row] = other.who[row, :size]


def blank(amounts: Floats, nodes: int, slots: int) -> Times:
    """Return times not yet worked out."""
    size = amounts.shape[1]
    ready, start, finish = (np.empty((nodes, size)) for _ in range(3))
    slot, who = (np.zeros((rows, size), np.int32) for rows in (slots, nodes))
    return Times(amounts, ready, start, finish, slot, who)
