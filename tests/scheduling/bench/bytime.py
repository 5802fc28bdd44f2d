"""How near the best known plans the planner comes in a second or five, on two cores.

    python -m tests.scheduling.bench.bytime [set ...] [--every N] [--seconds S ...]

Instance _1 of every cell of PSPLIB. "Planner" is what a longer look does: search on
two threads for the first part of the time, then the constraint solver from that plan.
"Solver alone" is the same solver on the textbook model with the same seconds. Every
schedule is checked by `psplib_files.checked_length`, which shares nothing with either.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Sequence
from itertools import islice

from ortools.sat.python import cp_model

import scheduling
from scheduling.improving import better_plan
from scheduling.solve import pose
from scheduling.timeline import PER_HOUR
from tests.scheduling.bench.psplib_files import (
    FOLDER,
    Instance,
    checked_length,
    instances,
)

SETS = ("j30", "j60", "j120")
WORKERS = 2


def planner(one: Instance, seconds: float) -> tuple[int, bool]:
    """Return the length our own way gives, and whether it is proven least."""
    posed = pose(scheduling.read_plan(one.plan(hours=1 / PER_HOUR)))
    found = better_plan(posed, seconds=seconds, workers=WORKERS, seed=1)
    starts = {
        job: found.start[number] - posed.network.now
        for job, number in posed.network.index.items()
    }
    return checked_length(one, starts), found.status == "proven best"


def solver_alone(one: Instance, seconds: float) -> tuple[int, bool]:
    """Return the length the textbook model gives; the sum of all lengths if none."""
    jobs = [activity.modes[0] for activity in one.activities]
    model, most = cp_model.CpModel(), sum(job.duration for job in jobs)
    starts = [model.new_int_var(0, most, "") for _ in jobs]
    spans = [
        model.new_fixed_size_interval_var(start, job.duration, "")
        for start, job in zip(starts, jobs, strict=True)
    ]
    for number, activity in enumerate(one.activities):
        for other in activity.successors:
            model.add(starts[other] >= starts[number] + jobs[number].duration)
    for place, limit in enumerate(one.capacity):
        model.add_cumulative(spans, [job.demands[place] for job in jobs], limit)
    model.minimize(starts[-1])  # the last activity is a moment after all others
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = WORKERS
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return most, False
    found = {f"job-{n}": float(solver.value(one)) for n, one in enumerate(starts)}
    return checked_length(one, found), status == cp_model.OPTIMAL


WAYS = {"planner": planner, "solver alone": solver_alone}


def row(kind: str, name: str, seconds: float, every: int) -> str:
    """Return one line of the table."""
    gaps, over, proven, took = [], [], 0, []
    for one in islice(instances(kind, {1}), 0, None, every):
        began = time.perf_counter()
        length, sure = WAYS[name](one, seconds)
        took.append(time.perf_counter() - began)
        gaps.append(100 * (length / one.best_known - 1))
        over.append(100 * (length / one.critical_path - 1))
        proven += sure
    return (
        f"{kind:5} {seconds:4.0f} s  {name:13}{statistics.mean(gaps):7.3f} %"
        f"{statistics.mean(over):9.2f} %{proven:6}/{len(gaps)}"
        f"{statistics.mean(took):8.2f} s"
    )


def main(arguments: Sequence[str] | None = None) -> None:
    """Print the table."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("sets", nargs="*", default=SETS)
    options.add_argument("--every", type=int, default=1, help="take every n-th")
    options.add_argument("--seconds", type=float, nargs="+", default=(1.0, 5.0))
    chosen = options.parse_args(arguments)
    if not FOLDER.is_dir():
        print(f"No instances: {FOLDER} is not there.")
        return
    planner(next(instances("j30")), 0.5)  # compiled before the clocks are started
    print("set   time    way          over best   over path   proven   took")
    for kind in chosen.sets:
        for seconds in chosen.seconds:
            for name in WAYS:
                print(row(kind, name, seconds, chosen.every), flush=True)


if __name__ == "__main__":
    main()
