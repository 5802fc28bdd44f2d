"""Two families of plans for one plain problem, and room to make another plan.

Family FORWARD holds plans made forward, family BACKWARD plans made backward; the times
of the latter count from the end.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from scheduling.search.arrays import Floats, Ints
from scheduling.search.plain import Plain
from scheduling.search.randoms import stream

FORWARD, BACKWARD = 0, 1
AGE, ROW, SIZE, BEST = 0, 1, 2, 3  # places in Kin.tally
NEVER = 1 << 40
IN_SERIES, IN_PARALLEL = 0, 1  # ways to make a child
PRICE = 4.0  # of a child worth keeping, before any is made


class Kin(NamedTuple):
    """The plans kept (by family and row), and room for another.

    Beside a plan that was a mother stands what it gives when it is turned round
    (justified): the order of its finishes, the last first, and the starts.
    """

    start: Ints
    finish: Ints
    span: Ints
    mark: Ints  # a fingerprint
    turned_order: Ints
    turned_start: Ints
    has_turned: Ints
    tally: Ints  # whose turn is next, how many are kept of each family, the best length
    record: Ints  # the starts of the best plan
    state: Ints
    worked_out: Ints  # starts, of all plans together
    kept: Floats  # children lately, by way of making them
    price: Floats  # of all children lately, by way, in plans
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
        _zeros(2, size, p.nodes),
        _zeros(2, size, p.nodes),
        _zeros(2, size),
        np.array([0, 0, size, NEVER], dtype=np.int64),
        _zeros(p.nodes),
        stream(seed),
        _zeros(1),
        np.ones(2),
        np.full(2, PRICE),
        _zeros(p.need.shape[1], p.steps),
        _zeros(p.steps + 3),
        *(_zeros(p.nodes) for _ in range(5)),
    )


def _zeros(*shape: int) -> Ints:
    return np.zeros(shape, dtype=np.int64)
