"""Random numbers by counter: sample `s` of a named thing is a pure function of both.

SplitMix64 (Steele, Lea & Flood 2014, "Fast splittable pseudorandom number
generators", OOPSLA, from memory). A change to one job leaves all other numbers alone
(common random numbers), and no number hangs on how samples are parcelled out.
"""

from __future__ import annotations

import hashlib
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from scheduling.compiled import bare

Floats = NDArray[np.float64]

GOLDEN = np.uint64(0x9E3779B97F4A7C15)
FIRST, SECOND = np.uint64(0xBF58476D1CE4E5B9), np.uint64(0x94D049BB133111EB)
S30, S27, S31, S11 = np.uint64(30), np.uint64(27), np.uint64(31), np.uint64(11)
ONE = np.uint64(1)
KEPT = 1 << 16  # keys
STEP, HALF = 2.0**-53, 2.0**-54


@lru_cache(KEPT)
def key_of(seed: int, name: str) -> np.uint64:
    """Return the key of one named thing under a seed."""
    text = f"{seed}\0{name}".encode()
    digest = hashlib.blake2b(text, digest_size=8).digest()
    return np.uint64(int.from_bytes(digest, "little"))


def uniforms(key: np.uint64, first: int, size: int) -> Floats:
    """Return the numbers of samples first, first + 1 ..., between 0 and 1 and neither.

    Parameters
    ----------
    key : uint64
        As `key_of` returns it.
    first, size : int
        Which sample to begin with, and how many.
    """
    mixed = np.arange(first + 1, first + size + 1, dtype=np.uint64) * GOLDEN + key
    mixed = (mixed ^ (mixed >> S30)) * FIRST
    mixed = (mixed ^ (mixed >> S27)) * SECOND
    mixed ^= mixed >> S31
    return np.asarray((mixed >> S11) * STEP + HALF, dtype=np.float64)


@bare
def uniform(key: np.uint64, sample: int) -> float:
    """Return the number of one sample; the same as `uniforms` gives."""
    mixed = (np.uint64(sample) + ONE) * GOLDEN + key
    mixed = (mixed ^ (mixed >> S30)) * FIRST
    mixed = (mixed ^ (mixed >> S27)) * SECOND
    mixed = mixed ^ (mixed >> S31)
    return float((mixed >> S11) * STEP + HALF)
