"""The simulation alone against a plain loop: draws, order, dates, what drives them.

Two workshops: 300 invented jobs, each named for one of 8 people, on a working week; and
the demo, where whoever is free first takes a job up, with slots, places and parts away.
The loop (networkx and Python) does the same work; it is run on a few dozen samples and
scaled. Both are timed in turns, on the wall and by the processor.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from random import Random
from statistics import median
from typing import Any

import scheduling
from scheduling.moves import SAMPLES as MOVED
from scheduling.readiness import odds_of
from tests.scheduling.bench.plain import PlainLoop

SAMPLES = 10_000
FEW = 24
JOBS, PEOPLE, LINKS, NEAR = 300, 8, 540, 30
WORKED = ["08:00-12:15", "13:00-16:45"]
LENGTHS = (2, 3, 4, 6, 8, 12, 16)

Seconds = tuple[float, float]  # on the wall, of the processor


def invented_plan() -> dict[str, Any]:
    """Return 300 jobs, each of one person, with 540 links, for a date at a show."""
    dice = Random(300)
    hands = [f"person-{number}" for number in range(PEOPLE)]
    jobs: list[dict[str, Any]] = []
    for number in range(JOBS):
        likely = dice.choice(LENGTHS)
        three = {"low": 0.7 * likely, "likely": likely, "high": 2.0 * likely}
        job = {"id": f"job-{number}", "build": "car", "kind": "bench"}
        jobs.append(job | {"estimate": three, "person": dice.choice(hands)})
    pairs: set[tuple[int, int]] = set()
    while len(pairs) < LINKS:
        later = dice.randrange(1, JOBS)
        pairs.add((dice.randrange(max(0, later - NEAR), later), later))
    for before, later in sorted(pairs):
        jobs[later].setdefault("after", []).append(f"job-{before}")
    days = ("mon", "tue", "wed", "thu", "fri")
    entries = [{"build": "car", "level": "complete"}]
    return {
        "now": "2027-03-01T08:00",
        "calendars": {"shop": {"week": dict.fromkeys(days, WORKED)}},
        "people": [{"id": one, "calendar": "shop"} for one in hands],
        "builds": [{"id": "car", "rank": 1}],
        "shows": [{"id": "show", "move_in": "2027-12-01T08:00", "entries": entries}],
        "jobs": jobs,
    }


def print_simulations(demo: dict[str, Any], repeats: int) -> None:
    """Print both workshops' ratios."""
    print(f"The simulation alone, {SAMPLES} samples; medians of {repeats} turns,")
    print(f"the plain loop on {FEW} samples a turn, scaled.")
    head = f"{'':42}{'wall s':>8}{'ratio':>8}{'processor s':>13}{'ratio':>8}"
    print(head)
    print_simulation(f"{JOBS} jobs, {PEOPLE} people", invented_plan(), repeats)
    print_simulation("the demo", demo, repeats)
    print("Goal: at least 400 for 300 jobs and 8 people, on the wall.\n")


def print_simulation(words: str, rows: dict[str, Any], repeats: int) -> None:
    plan = scheduling.read_plan(rows)
    found = scheduling.answer(plan, samples=MOVED, schedules=4).found
    kernel = found.odds.kernel
    keys = [(due.build, due.level) for due in found.dues]
    loop, random = PlainLoop(kernel, found.shared), Random(1)
    ends = [found.goals[key].ends for key in keys]

    def engine() -> None:
        odds_of(
            found.network,
            found.shared,
            kernel,
            found.goals,
            keys,
            samples=SAMPLES,
            seed=1,
        )

    def plainly() -> None:
        for _ in range(FEW):
            loop.traced(ends, loop.run(loop.sample(random)))

    engine()
    turns = [(timed(engine), timed(plainly)) for _ in range(repeats)]
    ours = medians([one for one, _ in turns])
    scale = SAMPLES / FEW
    theirs = [scale * part for part in medians([other for _, other in turns])]
    wall, processor = (b / a for a, b in zip(ours, theirs, strict=True))
    told = f"{words} ({len(found.network.nodes)} to do)"
    print(f"{told + ', the engine':42}{ours[0]:8.3f}{'':8}{ours[1]:13.3f}")
    print(
        f"{'  a plain loop':42}{theirs[0]:8.1f}{wall:8.0f}"
        f"{theirs[1]:13.1f}{processor:8.0f}"
    )


def timed(work: Callable[[], None]) -> Seconds:
    wall, processor = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - wall, time.process_time() - processor


def medians(times: Sequence[Seconds]) -> list[float]:
    return [median(kind) for kind in zip(*times, strict=True)]
