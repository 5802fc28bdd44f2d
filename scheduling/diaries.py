"""The hours of people and places already given away, in every sample at once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

NEVER = np.inf


class Hours:
    """One person's busy time, in that person's own working quarters.

    Blocks of one sample never overlap: a block that meets others swallows them.
    """

    def __init__(self) -> None:
        self._starts: list[Floats] = []
        self._ends: list[Floats] = []

    def fit(self, begin: Floats, length: Floats) -> Floats:
        """Return when work begun at `begin` ends, put down for every busy block."""
        end = begin + length
        starts, gaps = self._ahead(begin)
        if starts is None or gaps is None:
            return end
        plain = end
        for _ in range(len(starts) + 1):
            later = plain + np.einsum("ij,ij->j", gaps, starts < end)
            if np.array_equal(later, end):
                break
            end = later
        return end

    def _ahead(self, begin: Floats) -> tuple[Floats | None, Floats | None]:
        first = begin.min()
        rows = [row for row, end in enumerate(self._ends) if end.max() > first]
        if not rows:
            return None, None
        starts = np.stack([self._starts[row] for row in rows])
        gaps = np.stack([self._ends[row] for row in rows])
        gaps -= np.maximum(starts, begin)
        np.maximum(gaps, 0.0, out=gaps)
        return starts, gaps

    def take(self, begin: Floats, end: Floats) -> None:
        """Give begin..end away; the blocks it meets become part of it."""
        first, last = begin.min(), end.max()
        for row in range(len(self._starts) - 1, -1, -1):
            starts, ends = self._starts[row], self._ends[row]
            if ends.max() < first or starts.min() > last:
                continue
            met = (starts <= end) & (ends >= begin)
            if not met.any():
                continue
            begin = np.where(met, np.minimum(begin, starts), begin)
            end = np.where(met, np.maximum(end, ends), end)
            if met.all():
                del self._starts[row], self._ends[row]
                continue
            self._starts[row] = np.where(met, NEVER, starts)
            self._ends[row] = np.where(met, -NEVER, ends)
        self._starts.append(begin)
        self._ends.append(end)


class Stays:
    """The stays in one place, or of one person, as wall-clock quarters."""

    def __init__(self) -> None:
        self._stays: list[tuple[Floats, Floats, float, float]] = []

    def free_from(self, begin: Floats, end: Floats) -> Floats | None:
        """Return `begin` moved past every stay it meets, or None if it meets none."""
        moved: Floats | None = None
        first, last = begin.min(), end.max()
        for starts, ends, least, most in self._stays:
            if most <= first or least >= last:
                continue
            met = (starts < end - 1e-6) & (ends > begin + 1e-6) & (end > begin)
            if met.any():
                begin = np.where(met, ends, begin)
                moved = begin
        return moved

    def take(self, begin: Floats, end: Floats) -> None:
        """Give begin..end away."""
        self._stays.append((begin, end, float(begin.min()), float(end.max())))
