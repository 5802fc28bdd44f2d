"""Advice of the engine on what goes to a vendor, kept while the plan stays as it is."""

from __future__ import annotations

from typing import Any

from django.core.cache import cache

import scheduling
from builds.models import Vendor
from builds.planning.engine import digest, effort
from builds.planning.following import plan_followed, told_so
from builds.planning.problem import build_plan

SAMPLES = 1_000
KEPT = 3_600  # seconds

Facts = dict[str, Any]


def loads_to(vendor: Vendor) -> tuple[tuple[str, ...], ...]:
    """Give the keys of open jobs that could go to a vendor together, load by load."""
    plan = build_plan(trails=False)
    if scheduling.check_plan(plan):
        return ()
    found = scheduling.going_together(plan)
    return tuple(one.jobs for one in found if one.vendor == vendor.key)


def advice_on(jobs: tuple[str, ...], *, wanted: float) -> Facts:
    """Work out by when some jobs leave, and how; raises PlanError if they cannot."""
    plan = build_plan(trails=False)
    faults = scheduling.check_plan(plan)
    if faults:
        raise scheduling.PlanError(faults)
    tries = effort(plan)
    schedules, samples = tries["schedules"], min(tries["samples"], SAMPLES)
    asked = {"schedules": schedules, "samples": samples, "wanted": wanted}
    options = {**asked, "jobs": jobs, "followed": told_so()}
    name = "sending-" + digest(plan, options)
    kept: Facts | None = cache.get(name)
    if kept is None:
        found = scheduling.advise(
            plan,
            jobs,
            wanted=wanted,
            schedules=schedules,
            samples=samples,
            following=plan_followed(),
        )
        kept = found.as_dict()
        cache.set(name, kept, KEPT)
    return kept
