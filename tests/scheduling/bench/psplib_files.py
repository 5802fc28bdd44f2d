"""The published instances of PSPLIB as plan files, and their known bounds.

Kolisch & Sprecher 1996, "PSPLIB - a project scheduling library", EJOR 96:205-216 (from
memory). The files are not part of this repository; they are read from a folder beside
it, where they are.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psplib

FOLDER = Path(__file__).parents[4] / "shared" / "psplib"


@dataclass(frozen=True)
class Instance:
    """One instance: activities as published, its critical path and best known plan."""

    name: str
    activities: Any
    capacity: tuple[int, ...]
    critical_path: int
    best_bound: int
    best_known: int

    def plan(self, hours: float = 1.0) -> dict[str, Any]:
        """Return the instance as a plan file; one period is so many hours."""
        last = len(self.activities) - 1
        return {
            "places": [
                {"id": f"place-{k}", "capacity": units}
                for k, units in enumerate(self.capacity)
            ],
            "jobs": [
                {
                    "id": f"job-{k}",
                    "estimate": {
                        "likely": one.modes[0].duration * hours,
                        "fixed": True,
                    },
                    "places": [
                        {"place": f"place-{place}", "uses": units}
                        for place, units in enumerate(one.modes[0].demands)
                        if units
                    ],
                    "after": [
                        f"job-{other}"
                        for other in range(1, last)
                        if k in self.activities[other].successors
                    ],
                }
                for k, one in enumerate(self.activities)
                if 0 < k < last
            ],
        }


def instances(name: str, numbers: set[int] | None = None) -> Iterator[Instance]:
    """Yield the instances of a set that are there, `_1` of each cell if asked so."""
    with (FOLDER / f"{name}_bounds.csv").open(encoding="utf-8") as rows:
        for row in csv.DictReader(rows):
            path = FOLDER / name / f"{row['instance']}.sm"
            number = int(row["instance"].rsplit("_", 1)[1])
            if not path.exists() or (numbers and number not in numbers):
                continue
            read = psplib.parse(path, instance_format="psplib")
            yield Instance(
                row["instance"],
                read.activities,
                tuple(one.capacity for one in read.resources),
                int(row["cp_lb"]),
                int(row["best_lb"]),
                int(row["best_ub"]),
            )


def checked_length(one: Instance, starts: dict[str, float]) -> int:
    """Return the length of a plan, after looking at every link and every period.

    Shares nothing with the search: it reads the instance as published, and starts in
    its periods.
    """
    begin = {k: starts[f"job-{k}"] for k in range(1, len(one.activities) - 1)}
    ends = {k: begin[k] + one.activities[k].modes[0].duration for k in begin}
    length = round(max(ends.values()))
    use = [[0] * len(one.capacity) for _ in range(length)]
    for k, start in begin.items():
        assert start == int(start) >= 0, f"{one.name}: {k} starts at {start}"
        for other in one.activities[k].successors:
            assert other not in begin or begin[other] >= ends[k], f"{one.name}: {other}"
        for period in range(int(start), int(ends[k])):
            for place, units in enumerate(one.activities[k].modes[0].demands):
                use[period][place] += units
    for period in use:
        fits = all(
            used <= room for used, room in zip(period, one.capacity, strict=True)
        )
        assert fits, f"{one.name}: {period}"
    return length
