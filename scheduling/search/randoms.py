"""Random numbers that are the same compiled and not: two small generators combined.

L'Ecuyer 1988, "Efficient and portable combined random number generators",
Communications of the ACM 31:742-749 (constants
from memory). It needs no more than 64 bits and never overflows.
"""

from __future__ import annotations

import numpy as np

from scheduling.compiled import bare
from scheduling.search.arrays import Ints

ONE, OTHER = 2147483563, 2147483399
WARM = 20


def stream(seed: int, number: int = 0) -> Ints:
    """Return the state of a generator; each seed and number has its own."""
    found = np.random.SeedSequence([abs(seed), number]).generate_state(2)
    state = np.array([found[0] % (ONE - 1) + 1, found[1] % (OTHER - 1) + 1], np.int64)
    for _ in range(WARM):
        draw(state)
    return state


@bare
def draw(state: Ints) -> int:
    """Return the next number, 0 to ONE - 2."""
    state[0] = state[0] * 40014 % ONE
    state[1] = state[1] * 40692 % OTHER
    return int((state[0] - state[1]) % (ONE - 1))


@bare
def below(state: Ints, limit: int) -> int:
    """Return a number from 0 to limit - 1."""
    return draw(state) % limit


@bare
def share(state: Ints) -> float:
    """Return a fraction, 0 <= share < 1."""
    return draw(state) / (ONE - 1.0)
