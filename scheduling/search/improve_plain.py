"""The search for plain problems, by a number of plans or by the clock.

It begins with many plans and ends with few (linear reduction of the population: Tanabe
& Fukunaga 2014, IEEE Congress on Evolutionary Computation 1658-1665, from memory).
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from copy import deepcopy
from functools import partial

import numpy as np

from scheduling.search.arrays import Floats
from scheduling.search.budget import Watch, count_out, time_out
from scheduling.search.justify import breed
from scheduling.search.kin import AGE, BACKWARD, BEST, FORWARD, SIZE, Kin, kin_of
from scheduling.search.plain import Plain

SMALLEST, LARGEST = 10, 1000  # plans kept at once of each family
PROBED = 20
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
        kin, made = _by_number(plain, bound, schedules, seed, watch)
    else:
        kin, made = _by_time(plain, bound, seconds, threads, seed, watch)
    return kin.record.astype(np.float64), made


def _by_number(
    plain: Plain, bound: int, schedules: int, seed: int, watch: Watch | None
) -> tuple[Kin, int]:
    size, spent = _size(schedules), 0
    kin = kin_of(plain, size, seed)

    def step(each: int) -> int:
        nonlocal spent
        made = breed(plain, kin, each, _left(size, spent / schedules), bound)
        spent += made
        return made

    made = count_out(
        step, schedules, watch, ended=lambda: bool(kin.tally[BEST] <= bound)
    )
    return kin, made


def _by_time(
    plain: Plain,
    bound: int,
    seconds: float,
    threads: int,
    seed: int,
    watch: Watch | None,
) -> tuple[Kin, int]:
    probe = kin_of(plain, SMALLEST, seed)
    breed(plain, probe, 3 * SMALLEST, SMALLEST, bound)  # compiled before the clock runs
    began = time.monotonic()
    breed(plain, probe, PROBED, SMALLEST, bound)
    now = time.monotonic()
    rate = PROBED / max(now - began, 1e-6)
    size = _size(rate * seconds)
    kins = [kin_of(plain, size, seed + n) for n in range(threads)]

    def step(plain: Plain, kin: Kin, each: int) -> int:
        gone = (time.monotonic() - now) / max(seconds, 1e-9)
        return breed(plain, kin, each, _left(size, gone), bound)

    # each thread its own copy: two that count uses of the same arrays slow each other
    made = time_out(
        [partial(step, deepcopy(plain), kin) for kin in kins],
        max(int(rate * ROUND), 1),
        seconds,
        watch,
        ended=lambda: any(kin.tally[BEST] <= bound for kin in kins),
        between=partial(_visit, kins),
    )
    return min(kins, key=lambda kin: int(kin.tally[BEST])), made


def _size(schedules: float) -> int:
    """Return how many plans to begin with: more where there is time to mix them."""
    return int(min(max(schedules**0.9 / 21, SMALLEST), LARGEST))


def _left(size: int, gone: float) -> int:
    """Return how many plans to keep when this share of the search is over."""
    return max(int(size * (1.0 - gone)), SMALLEST)


def _visit(kins: Sequence[Kin]) -> None:
    """Put the best plan kept by each in place of the next one's worst."""
    for one, other in zip(kins, [*kins[1:], kins[0]], strict=True):
        if one is other or min(one.tally[AGE], other.tally[AGE]) < 2:
            continue
        for family in (FORWARD, BACKWARD):
            mine, theirs = one.tally[SIZE], other.tally[SIZE]
            best = int(one.span[family, :mine].argmin())
            worst = int(other.span[family, :theirs].argmax())
            shorter = one.span[family, best] < other.span[family, worst]
            if shorter and one.mark[family, best] not in other.mark[family, :theirs]:
                for given, taken in zip(one[:4], other[:4], strict=True):
                    taken[family, worst] = given[family, best]
                other.has_turned[family, worst] = 0
