"""The search for plain problems, by a number of plans or by the clock."""

from __future__ import annotations

import time
from collections.abc import Sequence
from functools import partial

import numpy as np

from scheduling.search.arrays import Floats
from scheduling.search.budget import Watch, count_out, time_out
from scheduling.search.justify import BEST, SIZE, Kin, breed, kin_of
from scheduling.search.plain import Plain

SMALLEST, LARGEST = 10, 250  # plans kept at once
ROUND = 0.02


def improve_plain(
    plain: Plain,
    bound: int,
    schedules: int | None,
    seconds: float,
    threads: int,
    seed: int,
    watch: Watch | None,
) -> tuple[Floats, int]:
    """Return the starts of the best plan found (steps), and how many were made."""
    if schedules is not None:
        kin = kin_of(plain, _size(schedules), seed)
        made = count_out(
            lambda step: breed(plain, kin, step, bound),
            schedules,
            watch,
            ended=lambda: bool(kin.tally[BEST] <= bound),
        )
        return kin.record.astype(np.float64), made
    probe = kin_of(plain, 1, seed)
    breed(plain, probe, 1, bound)  # compiled before the clock is started
    began = time.monotonic()
    breed(plain, probe, 20, bound)
    rate = 20 / max(time.monotonic() - began, 1e-6)
    size = _size(rate * seconds)
    kins = [kin_of(plain, size, seed + n) for n in range(threads)]
    made = time_out(
        [partial(_step, plain, kin, bound) for kin in kins],
        max(int(rate * ROUND), 1),
        seconds,
        watch,
        ended=lambda: any(kin.tally[BEST] <= bound for kin in kins),
        between=partial(_visit, kins),
    )
    best = min(kins, key=lambda kin: int(kin.tally[BEST]))
    return best.record.astype(np.float64), made


def _step(plain: Plain, kin: Kin, bound: int, step: int) -> int:
    return breed(plain, kin, step, bound)


def _size(schedules: float) -> int:
    """Return how many plans to keep: more where there is time to mix them."""
    return int(min(max(schedules**0.75 / 17, SMALLEST), LARGEST))


def _visit(kins: Sequence[Kin]) -> None:
    """Put the best plan kept by each in place of the next one's worst."""
    for one, other in zip(kins, [*kins[1:], kins[0]], strict=True):
        if one is other or min(one.tally[SIZE], other.tally[SIZE]) < len(other.span):
            continue
        best, worst = int(one.span.argmin()), int(other.span.argmax())
        if one.span[best] < other.span[worst] and one.mark[best] not in other.mark:
            for mine, theirs in zip(one[:4], other[:4], strict=True):
                theirs[worst] = mine[best]
