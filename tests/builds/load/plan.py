"""A large workshop: sixty cars of eighty jobs, made of those in the sample."""

from __future__ import annotations

from typing import Any

from builds.demo.plan import demo_plan

CARS, JOBS = 60, 80


def large_plan(cars: int = CARS, jobs: int = JOBS) -> dict[str, Any]:
    """Give the plan; the people, hours and vendors are those of the sample."""
    plan = demo_plan()
    first = [build["id"] for build in plan["builds"]]
    of_car = {key: [j for j in plan["jobs"] if j.get("build") == key] for key in first}
    plan["builds"], plan["jobs"] = [], []
    for number in range(cars):
        key = f"car-{number:02}"
        plan["builds"].append({"id": key, "name": f"Car {number}", "rank": number + 1})
        source = of_car[first[number % len(first)]][:jobs]
        plan["jobs"] += [_of(job, key, {one["id"] for one in source}) for job in source]
    show = plan["shows"][0]
    show["entries"] = [{"build": build["id"]} for build in plan["builds"][:10]]
    plan["shows"] = [show]
    plan["places"] = [p for p in plan["places"] if p["id"] not in first]
    del plan["consignments"]
    return plan


def _of(job: dict[str, Any], key: str, known: set[str]) -> dict[str, Any]:
    """Give a job of one car to another; links to jobs that are not there are cut."""
    mine = {name: value for name, value in job.items() if name in PLAIN}
    links = [
        one if isinstance(one, str) else one["job"] for one in job.get("after", [])
    ]
    mine["id"] = f"{key}-{job['id']}"
    mine["build"] = key
    mine["after"] = [f"{key}-{one}" for one in links if one in known]
    return mine


PLAIN = (
    "title",
    "kind",
    "phase",
    "estimate",
    "trade",
    "trade_level",
    "people",
    "vendor",
)
