"""What the engine says against a change before it is kept."""

from __future__ import annotations

import scheduling
from builds.models import Job, Link
from builds.planning.problem import build_plan

UNREADABLE = scheduling.Fault(
    "workshop",
    "something was written in a way nobody can read",
    "Write days as 2027-03-26, hours as 08:00-12:15 and a time zone by its name.",
)


def find_faults(*, shape: bool = True) -> tuple[scheduling.Fault, ...]:
    """Give everything that is wrong with the workshop's plan as it stands.

    With `shape`, also whether it could be written as a plan file and read again;
    only what was typed in can fail that.
    """
    find = scheduling.plan_faults if shape else scheduling.check_plan
    try:
        return find(build_plan())
    except (ValueError, TypeError, KeyError, AttributeError):
        return (UNREADABLE,)


def find_ring(*, job_key: str, after_key: str) -> list[str]:
    """Give the titles of the ring that `job` waiting for `after` would close."""
    waits: dict[str, list[str]] = {job_key: [after_key]}
    for key, before in Link.objects.values_list("job__key", "before__key"):
        waits.setdefault(key, []).append(before)
    ring = scheduling.find_loop(waits) or ()
    titles = dict(Job.objects.filter(key__in=ring).values_list("key", "title"))
    return [titles[key] or key for key in ring]
