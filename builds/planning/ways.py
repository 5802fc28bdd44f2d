"""One job done in each of its ways: what each does to the odds."""

from __future__ import annotations

from typing import Any

from django.core.cache import cache

import scheduling
from builds.models import Job, Way
from builds.planning.engine import digest, effort
from builds.planning.following import told_so
from builds.planning.preview import preview
from builds.planning.problem import build_plan

KEPT = 3_600  # seconds

Facts = dict[str, Any]


def odds_of_ways(job: Job) -> dict[str, Facts]:
    """Give the answer to the plan with the job done in each way, by the way's key.

    Raises PlanError if one of them does not fit. The draws are the same for all, so
    what differs is the way.
    """
    plan = build_plan(trails=False)
    name = "ways-" + digest(
        plan, {**effort(plan), "job": job.key, "followed": told_so()}
    )
    kept: dict[str, Facts] | None = cache.get(name)
    if kept is None:
        kept = {way.key: _shows(job, way) for way in job.ways.all()}
        cache.set(name, kept, KEPT)
    return kept


def _shows(job: Job, way: Way) -> Facts:
    answer = preview(change={job.key: fields_of(way)})
    return {"shows": answer["shows"], "builds": answer["builds"]}


def fields_of(way: Way) -> Facts:
    """Give what the job would hold, named and written as in the plan file."""
    fields: Facts = {
        "kind": way.kind,
        "vendor": way.vendor.key if way.vendor else None,
        "trade": way.trade,
        "trade_level": way.trade_level,
        "rework_chance": way.spoil_chance,
        "estimate": _estimate(way),
        "way": way.key,
    }
    return fields if way.kind in ("bench", "check") else fields | {"person": None}


def _estimate(way: Way) -> Facts | None:
    if way.likely is None:
        return None
    told = {"low": way.low, "likely": way.likely, "high": way.high}
    found: Facts = {name: value for name, value in told.items() if value is not None}
    return found | ({"fixed": True} if way.fixed else {})


PlanError = scheduling.PlanError
