"""The jobs of one invented car: phases of bench work, parts away, a choice, stands."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from random import Random
from typing import Any

Row = dict[str, Any]

Z90 = 1.2815515655446004
KINDS = ("bench", "outside", "order", "decision", "stand", "check")
SHARES = (58, 15, 7, 5, 6, 9)
DATELESS = "vendor1"
TRADES = ("fabrication", "mechanics", "fitting")


@dataclass
class Car:
    """A car being invented; `widths` are the log-sds of estimates per vendor."""

    id: str
    levels: list[str]
    widths: dict[str, float]
    jobs: list[Row] = field(default_factory=list)


def build_jobs(random: Random, car: Car) -> tuple[list[Row], list[Row]]:
    """Return the jobs of a car and its consignments.

    Jobs are in order of readiness level; each waits for one or two of the few before
    it. Now and then a piece for the vendor who gives no dates has a twin that leaves
    and comes back with it.
    """
    count = random.randint(15, 34)
    consignments = []
    for number in range(count):
        level = number * len(car.levels) // count
        job = _job(random, car, number, level)
        car.jobs.append(job)
        if job.get("vendor") == DATELESS and random.random() < 0.5:
            twin = {**job, "id": f"{job['id']}b"}
            car.jobs.append(twin)
            pair = [job["id"], twin["id"]]
            name = f"tin-{job['id']}"
            consignments.append({"id": name, "vendor": DATELESS, "jobs": pair})
    return car.jobs, consignments


def _job(random: Random, car: Car, number: int, level: int) -> Row:
    kind = random.choices(KINDS, SHARES)[0] if number else "bench"
    row: Row = {
        "id": f"{car.id}-{number:02}",
        "build": car.id,
        "kind": kind,
        "level": car.levels[level],
        "after": _links(random, car, number),
    }
    FILL[kind](random, car, row)
    return row


def _links(random: Random, car: Car, number: int) -> list[Row | str]:
    reach = [one["id"] for one in car.jobs[max(0, number - 7) :]]
    count = min(len(reach), random.choice((1, 1, 1, 2, 2)))
    links: list[Row | str] = list(random.sample(reach, count))
    if links and random.random() < 0.06:
        links[0] = {"job": links[0], "wait_hours": random.choice((12, 24, 48))}
    return links


def estimate(random: Random, median: float, width: float) -> dict[str, float]:
    """Return low, likely and high of a lognormal, likely between mode and median."""
    likely = median * math.exp(-0.5 * width**2)
    low, high = median * math.exp(-Z90 * width), median * math.exp(Z90 * width)
    return {"low": round(low, 2), "likely": round(likely, 2), "high": round(high, 2)}


def _bench(random: Random, car: Car, row: Row) -> None:
    row["trade"] = random.choices(TRADES, (30, 35, 35))[0]
    median = math.exp(random.uniform(math.log(3), math.log(26)))
    row["estimate"] = estimate(random, median, random.uniform(0.25, 0.6))
    if row["trade"] == "fabrication" and random.random() < 0.3:
        row["trade_level"] = 3
    if random.random() < 0.2:
        row["places"] = [random.choice(("ramp", "ramp", "booth"))]
    if random.random() < 0.05 and row["trade"] == "fitting":
        row["people"] = 2


def _check(random: Random, car: Car, row: Row) -> None:
    row["trade"] = random.choice(TRADES)
    row["estimate"] = estimate(random, random.uniform(1.5, 6), random.uniform(0.2, 0.4))
    if random.random() < 0.4:
        row["rework_chance"] = 0.15


def _outside(random: Random, car: Car, row: Row) -> None:
    row["vendor"] = random.choice(list(car.widths))
    median = math.exp(random.uniform(math.log(4), math.log(18)))
    row["estimate"] = estimate(random, median, car.widths[row["vendor"]])


def _order(random: Random, car: Car, row: Row) -> None:
    row["estimate"] = estimate(random, random.uniform(4, 20), random.uniform(0.35, 0.6))


def _decision(random: Random, car: Car, row: Row) -> None:
    row["estimate"] = estimate(random, random.uniform(2, 8), random.uniform(0.5, 0.8))


def _stand(random: Random, car: Car, row: Row) -> None:
    row["estimate"] = estimate(random, random.uniform(12, 72), 0.25)


FILL = {
    "bench": _bench,
    "check": _check,
    "outside": _outside,
    "order": _order,
    "decision": _decision,
    "stand": _stand,
}
