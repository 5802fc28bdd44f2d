"""How good shared plans are: `python -m tests.scheduling.bench.psplib_quality`.

The published protocol (Kolisch & Hartmann 2006, EJOR 174:23-37): so many schedules are
made for each instance, one schedule being as many starts worked out as there are jobs;
the mean deviation is from the optimum for 30 jobs, else from the critical path.
Instances go through a plan file like any other plan; every plan found is checked
against the instance as published. Options: sets and numbers of schedules, e.g.
`j60 5000`; `every=N` takes each N-th instance, `only=1,3` those two of every cell,
`seed=N` draws other numbers (1 unless told).
"""

from __future__ import annotations

import sys
import time
from itertools import islice
from statistics import fmean

import scheduling
from scheduling.shared_plan import SharedPlan
from scheduling.solve import first_plan, pose
from scheduling.timeline import PER_HOUR
from tests.scheduling.bench.psplib_files import (
    FOLDER,
    Instance,
    checked_length,
    instances,
)

SETS = ("j30", "j60", "j120")
BUDGETS = (1_000, 5_000, 50_000)

# Mean deviations after 1,000 / 5,000 / 50,000 schedules on the whole sets. Wang & Fang
# 2012, Expert Systems with Applications 39, tables 7 and 10, for the first two columns
# of j120; all others from memory, chiefly Kolisch & Hartmann 2006.
PUBLISHED = (
    ("Debels & Vanhoucke 2007", "0.12 0.04 0.02", "11.31 10.95 10.68",
     "33.55 32.18 30.69"),
    ("Valls et al. 2008", "0.27 0.06 0.02", "11.56 11.10 10.73", "34.07 32.54 31.24"),
    ("Kochetov & Stolyar 2003", "0.10 0.04 0.00", "11.71 11.17 10.74",
     "34.74 33.36 32.06"),
    ("Debels et al. 2006", "0.27 0.11 0.01", "11.73 11.10 10.71", "35.22 33.10 31.57"),
    ("Hartmann 2002", "0.38 0.22 0.08", "12.21 11.70 11.21", "37.19 35.39 33.21"),
    ("Hartmann 1998", "0.54 0.25 0.08", "12.68 11.89 11.23", "39.37 36.74 34.03"),
)  # fmt: skip


def main() -> None:
    if not FOLDER.exists():
        print("The PSPLIB instances are not here; nothing to measure.")
        return
    words = sys.argv[1:]
    sets = [one for one in SETS if one in words] or SETS
    budgets = [int(one) for one in words if one.isdigit()] or BUDGETS
    every = next((int(one[6:]) for one in words if one.startswith("every=")), 1)
    only = next((one[5:] for one in words if one.startswith("only=")), "")
    seed = next((int(one[5:]) for one in words if one.startswith("seed=")), 1)
    numbers = {int(one) for one in only.split(",") if one}
    print("set   schedules  deviation %  best known %  instances  schedules/s")
    for name in sets:
        found = list(islice(instances(name, numbers), 0, None, every))
        for budget in budgets:
            print_row(name, found, budget, seed)
    print("Published, on the whole sets (best known: j60 10.37, j120 28.99):")
    for method, *figures in PUBLISHED:
        print(f"  {method:24}" + "".join(f"{one:>22}" for one in figures))


def print_row(name: str, found: list[Instance], budget: int, seed: int) -> None:
    began, made = 0.0, 0
    deviations, known = [], []
    for one in found:
        shared, seconds, length = solved(one, schedules=budget, seed=seed)
        began, made = began + seconds, made + shared.schedules
        base = one.best_known if name == "j30" else one.critical_path
        deviations.append(100 * (length / base - 1))
        known.append(100 * (one.best_known / base - 1))
    print(
        f"{name:5} {budget:9,}  {fmean(deviations):11.3f}  {fmean(known):12.3f}"
        f"  {len(found):9}  {made / began:11,.0f}",
        flush=True,
    )


def solved(
    one: Instance,
    schedules: int | None = None,
    seconds: float = 0.0,
    seed: int = 1,
) -> tuple[SharedPlan, float, int]:
    """Return the plan for an instance, the seconds it took, and its checked length."""
    posed = pose(scheduling.read_plan(one.plan()))
    network = posed.network
    began = time.perf_counter()
    shared = first_plan(posed, schedules, seconds, seed=seed)
    took = time.perf_counter() - began
    starts = {
        job: (shared.start[number] - network.now) / PER_HOUR
        for job, number in network.index.items()
    }
    return shared, took, checked_length(one, starts)


if __name__ == "__main__":
    main()
