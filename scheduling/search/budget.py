"""How long a search goes on: by a number of plans, or by the clock on two threads."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor

Watch = Callable[[float], bool]
Step = Callable[[int], int]  # makes up to so many plans, returns how many

ROUND = 0.05  # seconds between two looks at the clock
LEAST = 16  # plans between two looks
STEPS = 20  # looks where only the number of plans counts


def count_out(
    step: Step, schedules: int, watch: Watch | None, ended: Callable[[], bool]
) -> int:
    """Make so many plans, fewer when there is nothing left to gain; return how many."""
    made, each = 0, max(schedules // STEPS, LEAST)
    while True:
        done = step(min(each, schedules - made))
        made += done
        going = watch is None or watch(made / schedules)
        if made >= schedules or not done or ended() or not going:
            return made


def time_out(
    steps: Sequence[Step],
    each: int,
    seconds: float,
    watch: Watch | None,
    ended: Callable[[], bool],
    between: Callable[[], None],
) -> int:
    """Make plans on a thread for each step until the time is up; return how many.

    Parameters
    ----------
    each : int
        Plans in the first round; later rounds adapt to last about `ROUND` seconds.
    ended, between : callable
        Whether there is nothing left to gain; what to do after each round.
    """
    began, made = time.monotonic(), 0
    with ThreadPoolExecutor(len(steps)) as pool:
        while True:
            begun = time.monotonic()
            jobs = [pool.submit(step, each) for step in steps]
            made += sum(job.result() for job in jobs)
            now = time.monotonic()
            left = seconds - (now - began)
            each = max(int(each * ROUND / max(now - begun, ROUND / 4)), 1)
            share = 1.0 - max(left, 0.0) / max(seconds, 1e-9)
            going = watch is None or watch(share)
            if ended() or left <= 0 or not going:
                return made
            between()
