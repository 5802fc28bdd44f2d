"""The hours of people and places already given away, in every sample at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

NEVER = np.inf


@dataclass(frozen=True, slots=True)
class Row:
    """One block in every sample, with its earliest start and latest end of all."""

    starts: Floats
    ends: Floats
    least: float
    most: float

    @classmethod
    def of(cls, starts: Floats, ends: Floats) -> Row:
        """Return the row of given starts and ends."""
        return cls(starts, ends, float(starts.min()), float(ends.max()))


class Hours:
    """One person's busy time, in that person's own working quarters.

    Blocks of one sample never overlap: a block that meets others swallows them.
    """

    def __init__(self) -> None:
        self._rows: list[Row] = []

    def fit(self, begin: Floats, length: Floats) -> Floats:
        """Return when work begun at `begin` ends, put down for every busy block."""
        end = plain = begin + length
        first = begin.min()
        rows = [row for row in self._rows if row.most > first]
        if not rows:
            return end
        starts = np.stack([row.starts for row in rows])
        gaps = np.stack([row.ends for row in rows])
        gaps -= np.maximum(starts, begin)
        np.maximum(gaps, 0.0, out=gaps)
        for _ in range(len(rows) + 1):
            later = plain + np.einsum("ij,ij->j", gaps, starts < end)
            if np.array_equal(later, end):
                break
            end = later
        return end

    def take(self, begin: Floats, end: Floats) -> None:
        """Give begin..end away; the blocks it meets become part of it."""
        first, last = begin.min(), end.max()
        kept: list[Row] = []
        for row in reversed(self._rows):
            if row.most < first or row.least > last:
                kept.append(row)
                continue
            met = (row.starts <= end) & (row.ends >= begin)
            if not met.any():
                kept.append(row)
                continue
            begin = np.where(met, np.minimum(begin, row.starts), begin)
            end = np.where(met, np.maximum(end, row.ends), end)
            first, last = begin.min(), end.max()
            if not met.all():
                starts = np.where(met, NEVER, row.starts)
                kept.append(Row.of(starts, np.where(met, -NEVER, row.ends)))
        kept.reverse()
        self._rows = [*kept, Row.of(begin, end)]


class Stays:
    """The stays in one place, or of one person, as wall-clock quarters."""

    def __init__(self) -> None:
        self._rows: list[Row] = []

    def free_from(self, begin: Floats, end: Floats) -> Floats | None:
        """Return `begin` moved past every stay it meets, or None if it meets none."""
        moved: Floats | None = None
        first, last = begin.min(), end.max()
        for row in self._rows:
            if row.most <= first or row.least >= last:
                continue
            met = (row.starts < end - 1e-6) & (row.ends > begin + 1e-6) & (end > begin)
            if met.any():
                begin = np.where(met, row.ends, begin)
                moved = begin
        return moved

    def take(self, begin: Floats, end: Floats) -> None:
        """Give begin..end away."""
        self._rows.append(Row.of(begin, end))
