"""How long the demo's answer takes here: `make bench`."""

from __future__ import annotations

import time

import scheduling
from builds.demo.plan import demo_plan


def main() -> None:
    plan = scheduling.read_plan(demo_plan())
    for samples in (400, 2_000, 10_000):
        began = time.perf_counter()
        scheduling.answer(plan, schedules=4, samples=samples)
        took = time.perf_counter() - began
        print(f"{len(plan.jobs)} jobs, {samples:6} drawn futures: {took:5.1f} s")


if __name__ == "__main__":
    main()
