"""A sheet to begin with: some of the sample's jobs, its people and its vendors."""

from __future__ import annotations

from typing import Any

from builds.demo.plan import demo_plan
from sheets.columns import JOBS, PEOPLE, SORTS, VENDORS

CAR = "q118"
JOBS_SHOWN = 24
COLUMNS = {
    "jobs": (
        "build", "title", "kind", "low", "likely", "high", "after", "trade", "person",
        "vendor", "places", "phase", "area", "level", "state", "note",
    ),
    "people": ("name", "trades", "away", "note"),
    "vendors": ("name", "does", "phone", "note"),
}  # fmt: skip
UNITS = {"outside": "d", "order": "d", "decision": "d"}

Rows = list[list[str]]


def template_tables() -> list[tuple[str, Rows]]:
    """Give the three sheets, headings first; they can be taken in as they are."""
    plan = demo_plan()
    rows = {
        "jobs": [_job(job, plan) for job in _chosen(plan)],
        "people": [_person(person) for person in plan["people"]],
        "vendors": [dict(vendor) for vendor in plan["vendors"]],
    }
    return [
        (sort.heading, _table(sort.name, rows[sort.name]))
        for sort in (JOBS, PEOPLE, VENDORS)
    ]


def _table(name: str, rows: list[dict[str, Any]]) -> Rows:
    sort, columns = SORTS[name], COLUMNS[name]
    headings = [sort.heading_of(column) for column in columns]
    return [headings, *([str(row.get(one, "")) for one in columns] for row in rows)]


def _chosen(plan: dict[str, Any]) -> list[dict[str, Any]]:
    """Give jobs of one car whose own first jobs are among them, of every kind."""
    jobs = [job for job in plan["jobs"] if job.get("build") == CAR]
    chosen: dict[str, dict[str, Any]] = {}
    for job in jobs:
        first = job["kind"] in ("outside", "order", "decision", "stand")
        room = len(chosen) < JOBS_SHOWN - 8
        before = {_before(one) for one in job["after"]}
        if before <= set(chosen) and (room or first) and len(chosen) < JOBS_SHOWN:
            chosen[job["id"]] = job
    return list(chosen.values())


def _before(link: Any) -> str:
    return link if isinstance(link, str) else str(link["job"])


def _job(job: dict[str, Any], plan: dict[str, Any]) -> dict[str, Any]:
    names = _names(plan)
    titles = {one["id"]: one["title"] for one in plan["jobs"]}
    unit = UNITS.get(job["kind"], "h")
    estimate = job.get("estimate") or {}
    places = [
        one if isinstance(one, str) else one["place"] for one in job.get("places", ())
    ]
    return {
        **job,
        **{name: f"{value:g}{unit}" for name, value in estimate.items() if value},
        "build": names[job["build"]],
        "after": "; ".join(titles[_before(one)] for one in job["after"]),
        "vendor": names.get(job.get("vendor"), ""),
        "person": names.get(job.get("person"), ""),
        "places": "; ".join(names[one] for one in places),
        "state": "",
    }


def _names(plan: dict[str, Any]) -> dict[Any, str]:
    groups = ("builds", "vendors", "people", "places")
    return {one["id"]: one["name"] for group in groups for one in plan[group]}


def _person(person: dict[str, Any]) -> dict[str, Any]:
    trades = "; ".join(f"{name} {level}" for name, level in person["trades"].items())
    away = "; ".join(span.replace("/", " to ") for span in person.get("away", ()))
    return {**person, "trades": trades, "away": away}
