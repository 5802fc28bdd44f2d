"""How long one job takes from given starts, for arrays of samples."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from scheduling.many_moments import add_days_each, add_each, opening_each
from scheduling.timeline import PER_DAY, TINY
from scheduling.work import Work
from scheduling.working_time import Clock

Floats = NDArray[np.float64]

UNBROKEN_TRIES = 60


def done_each(work: Work, clock: Clock, start: Floats, amount: Floats) -> Floats:
    """Return when one job is done in each sample, nothing else in its way."""
    if work.promise:
        return np.maximum(start, amount)
    if work.length <= TINY:
        return start
    if work.in_days:
        return add_days_each(work.clock, start, amount)
    return add_each(clock if work.teams else work.clock, start, amount)


def unbroken_each(clock: Clock, ready: Floats, length: Floats) -> Floats:
    """Return the first starts whose work meets no closed day, where there is one."""
    start = opening_each(clock, ready)
    first = start
    for _ in range(UNBROKEN_TRIES):
        finish = add_each(clock, start, length)
        runs = clock.runs
        last = len(runs) - 1
        began = runs[np.minimum(start // PER_DAY, last).astype(np.intp)]
        ended = runs[np.minimum((finish - TINY) // PER_DAY, last).astype(np.intp)]
        broken = began != ended
        if not broken.any():
            return start
        later = opening_each(clock, (start // PER_DAY + 1.0) * PER_DAY)
        start = np.where(broken, later, start)
    return np.where(broken, first, start)
