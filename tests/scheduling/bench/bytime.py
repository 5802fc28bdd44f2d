"""How near the best known plans the planner comes in a second or five, on two cores.

    python -m tests.scheduling.bench.bytime [set ...] [--every N] [--seconds S ...]

Instance _1 of every cell of PSPLIB. "Planner" is what a longer look does: search on
two threads for the first part of the time, then the constraint solver from that plan.
"Solver alone" is the same solver on the textbook model with the same seconds. Every
schedule is checked by `instances.length_of`, which shares nothing with either.
"""

from __future__ import annotations

import argparse
import statistics
import time
from collections.abc import Sequence

from ortools.sat.python import cp_model

import scheduling
from scheduling.improving import better_plan
from scheduling.solve import pose
from tests.scheduling.bench.instances import (
    FOLDER,
    SETS,
    Instance,
    as_plan,
    instances,
    length_of,
    there,
)

WORKERS = 2


def planner(one: Instance, seconds: float) -> tuple[int, bool]:
    """Return the length our own way gives, and whether it is proven least."""
    posed = pose(scheduling.read_plan(as_plan(one)))
    found = better_plan(posed, seconds=seconds, workers=WORKERS, seed=1)
    start, index, now = found.plan.start, posed.network.index, int(posed.network.now)
    starts = [int(start[index[f"j{job}"]]) - now for job in range(len(one.lengths))]
    return length_of(one, starts), found.status == "proven best"


def solver_alone(one: Instance, seconds: float) -> tuple[int, bool]:
    """Return the length the textbook model gives; the sum of all lengths if none."""
    model, most = cp_model.CpModel(), sum(one.lengths)
    starts = [model.new_int_var(0, most, "") for _ in one.lengths]
    spans = [
        model.new_fixed_size_interval_var(start, length, "")
        for start, length in zip(starts, one.lengths, strict=True)
    ]
    for job, later in enumerate(one.after):
        for other in later:
            model.add(starts[other] >= starts[job] + one.lengths[job])
    for number, limit in enumerate(one.limits):
        model.add_cumulative(spans, [need[number] for need in one.needs], limit)
    end = model.new_int_var(0, most, "")
    for start, length in zip(starts, one.lengths, strict=True):
        model.add(end >= start + length)
    model.minimize(end)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = WORKERS
    solver.parameters.max_time_in_seconds = seconds
    status = solver.solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return most, False
    found = [solver.value(start) for start in starts]
    return length_of(one, found), status == cp_model.OPTIMAL


WAYS = {"planner": planner, "solver alone": solver_alone}


def row(kind: str, name: str, seconds: float, every: int) -> str:
    """Return one line of the table."""
    gaps, over, proven, took = [], [], 0, []
    for one in instances(kind)[::every]:
        began = time.perf_counter()
        length, sure = WAYS[name](one, seconds)
        took.append(time.perf_counter() - began)
        gaps.append(100 * (length / one.best - 1))
        over.append(100 * (length / one.path - 1))
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
    if not there():
        print(f"No instances: {FOLDER} is not there.")
        return
    print("set   time    way          over best   over path   proven   took")
    for kind in chosen.sets:
        for seconds in chosen.seconds:
            for name in WAYS:
                print(row(kind, name, seconds, chosen.every), flush=True)


if __name__ == "__main__":
    main()
