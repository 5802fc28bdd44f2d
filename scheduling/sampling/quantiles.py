"""Quantiles of a law by table: straight lines between knots, closer in the tails.

One knot for each 1024th of chance; the first and the last of these cells again in 256
parts, so that one time in a quarter of a million is still told apart.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtri

from scheduling.compiled import bare
from scheduling.estimates import Spread

Floats = NDArray[np.float64]

BODY, FINE = 1024, 256
MIDDLE, TOP = FINE + 1, FINE + BODY + 2  # where the parts of a table begin
KEPT = 2048  # tables, 12 kB each


def _knots() -> Floats:
    fine = np.arange(FINE + 1) / (BODY * FINE)
    body = np.arange(BODY + 1) / BODY
    chances = np.concatenate([fine, body, 1.0 - fine[::-1]])
    least = 1.0 / (16 * BODY * FINE)
    return np.asarray(np.clip(chances, least, 1.0 - least), dtype=np.float64)


SCORES = ndtri(_knots())


@lru_cache(KEPT)
def table_of(law: Spread) -> Floats:
    """Return the table of a law."""
    table = law.draw(SCORES)
    table.flags.writeable = False
    return table


def read(table: Floats, chances: Floats) -> Floats:
    """Return the lengths reached with the given chances (above 0, below 1)."""
    along = chances * BODY
    cell = along.astype(np.intp)
    low, high = cell == 0, cell == BODY - 1
    base = np.where(low, 0, np.where(high, TOP, MIDDLE))
    along = np.where(low, along * FINE, np.where(high, (along - cell) * FINE, along))
    cell = along.astype(np.intp)
    at = base + cell
    return np.asarray(table[at] + (table[at + 1] - table[at]) * (along - cell))


@bare
def read_one(table: Floats, chance: float) -> float:
    """Return the length reached with one chance; the same as `read` gives."""
    along = chance * BODY
    cell = np.int32(along)
    low, high = cell == 0, cell == BODY - 1
    fine = (along - cell) * FINE if high else along * FINE
    along = fine if low | high else along
    base = np.int32(TOP) if high else np.int32(MIDDLE)
    base = np.int32(0) if low else base
    cell = np.int32(along)
    below = table[base + cell]
    return float(below + (table[base + cell + 1] - below) * (along - cell))
