"""The published scheduling instances of PSPLIB (Kolisch & Sprecher 1996) as plans.

One unit of an instance is one quarter-hour. The files are not part of this repository;
they are looked for in ../shared/psplib, or where the variable PSPLIB says.
"""

from __future__ import annotations

import csv
import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import psplib

FOLDER = Path(os.environ.get("PSPLIB") or Path(__file__).parents[4] / "shared/psplib")
SETS = ("j30", "j60", "j120")


@dataclass(frozen=True)
class Instance:
    """Lengths, needs by resource, what follows each job, and limits; and what is known.

    `lower` and `best` are the best known bounds, `path` the critical path's length.
    """

    name: str
    lengths: Sequence[int]
    needs: Sequence[Sequence[int]]
    after: Sequence[Sequence[int]]
    limits: Sequence[int]
    path: int
    lower: int
    best: int


def there() -> bool:
    """Return whether the files are there."""
    return (FOLDER / "j30").is_dir()


def instances(kind: str, numbers: Sequence[int] = (1,)) -> list[Instance]:
    """Return the instances with these numbers of every cell of a set."""
    with (FOLDER / f"{kind}_bounds.csv").open(encoding="utf-8") as file:
        rows = {row["instance"]: row for row in csv.DictReader(file)}
    names = [name for name in rows if int(name.rsplit("_", 1)[1]) in numbers]
    return [_read(kind, name, rows[name]) for name in names]


def _read(kind: str, name: str, row: dict[str, str]) -> Instance:
    told = psplib.parse(FOLDER / kind / f"{name}.sm", instance_format="psplib")
    jobs = told.activities
    return Instance(
        name,
        [job.modes[0].duration for job in jobs],
        [list(job.modes[0].demands) for job in jobs],
        [list(job.successors) for job in jobs],
        [resource.capacity for resource in told.resources],
        int(row["cp_lb"]),
        int(row["best_lb"]),
        int(row["best_ub"]),
    )


def as_plan(one: Instance) -> dict[str, Any]:
    """Return an instance as a plan file; its resources are places."""
    before: list[list[int]] = [[] for _ in one.lengths]
    for job, later in enumerate(one.after):
        for other in later:
            before[other].append(job)
    return {
        "now": "2027-01-04T00:00",
        "places": [
            {"id": f"r{number}", "capacity": limit}
            for number, limit in enumerate(one.limits)
        ],
        "jobs": [
            {
                "id": f"j{job}",
                "estimate": {"likely": length / 4, "fixed": True},
                "after": [f"j{other}" for other in before[job]],
                "places": [
                    {"place": f"r{number}", "uses": units}
                    for number, units in enumerate(one.needs[job])
                    if units
                ],
            }
            for job, length in enumerate(one.lengths)
        ],
    }


def length_of(one: Instance, starts: Sequence[int]) -> int:
    """Return how long a schedule takes, having checked all of it.

    Raises
    ------
    ValueError
        A job starts too soon, or a resource is asked for more than it has.
    """
    for job, later in enumerate(one.after):
        if starts[job] < 0 or any(
            starts[other] < starts[job] + one.lengths[job] for other in later
        ):
            raise ValueError(f"{one.name}: something starts too soon after job {job}")
    for moment in sorted(set(starts)):
        running = [
            job
            for job, start in enumerate(starts)
            if start <= moment < start + one.lengths[job]
        ]
        for number, limit in enumerate(one.limits):
            if sum(one.needs[job][number] for job in running) > limit:
                raise ValueError(f"{one.name}: resource {number} is over-used")
    return max(start + one.lengths[job] for job, start in enumerate(starts))
