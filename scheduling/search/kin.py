"""Two families of plans for one plain problem, and room to make another plan.

Family FORWARD holds plans made forward, family BACKWARD plans made backward; the times
of the latter count from the end.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from scheduling.search.arrays import Ints
from scheduling.search.plain import Plain
from scheduling.search.randoms import stream

FORWARD, BACKWARD = 0, 1
AGE, ROW, SIZE, BEST = 0, 1, 2, 3  # places in Kin.tally
NEVER = 1 << 40


class Kin(NamedTuple):
    """The plans kept (family, row: starts, finishes, length, fingerprint), and room."""

    start: Ints
    finish: Ints
    span: Ints
    mark: Ints
    tally: Ints  # whose turn is next, how many are kept of each family, the best length
    record: Ints  # the starts of the best plan
    state: Ints
    free: Ints
    buckets: Ints
    order: Ints
    other: Ints
    here: Ints
    there: Ints
    left: Ints


def kin_of(p: Plain, size: int, seed: int) -> Kin:
    """Return room for two families of `size` plans, none made yet."""
    return Kin(
        _zeros(2, size, p.nodes),
        _zeros(2, size, p.nodes),
        np.full((2, size), NEVER, dtype=np.int64),
        _zeros(2, size),
        np.array([0, 0, size, NEVER], dtype=np.int64),
        _zeros(p.nodes),
        stream(seed),
        _zeros(p.need.shape[1], p.steps),
        _zeros(p.steps + 3),
        *(_zeros(p.nodes) for _ in range(5)),
    )


def _zeros(*shape: int) -> Ints:
    return np.zeros(shape, dtype=np.int64)
