"""What one run of the simulation holds: times of every node, and what is taken."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduling.diaries import Hours, Stays

Floats = NDArray[np.float64]


@dataclass(slots=True)
class Times:
    """`finish[n]`, `ready[n]` and `start[n]` of every node; `slot` where it needs one.

    `ready` is when nothing before it is in the way, `start` when it takes hold of its
    people and places.
    """

    finish: list[Floats]
    ready: list[Floats]
    start: list[Floats]
    slot: dict[int, NDArray[np.intp]]

    def first(self, count: int) -> Times:
        """Return the first samples only."""
        return Times(
            [row[:count] for row in self.finish],
            [row[:count] for row in self.ready],
            [row[:count] for row in self.start],
            {number: row[:count] for number, row in self.slot.items()},
        )


@dataclass(slots=True)
class Taken:
    """What one run has given away so far."""

    hours: dict[str, Hours]
    stays: dict[str, Stays]
    slots: dict[str, list[NDArray[np.intp]]]
