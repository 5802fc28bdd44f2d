"""What the engine says against a change before it is kept."""

from __future__ import annotations

from collections.abc import Collection

import scheduling
from builds.models import Job
from builds.planning.part import build_part
from builds.planning.problem import build_plan
from builds.selectors.order import order_before

UNREADABLE = scheduling.Fault(
    "workshop",
    "something was written in a way nobody can read",
    "Write days as 2027-03-26, hours as 08:00-12:15 and a time zone by its name.",
)
TOO_MANY = scheduling.Fault(
    "jobs",
    f"the plan holds more than {scheduling.MOST_JOBS:,} jobs",
    "Take out builds that are finished.",
)


def find_faults(
    *, typed: Collection[str] | None = None
) -> tuple[scheduling.Fault, ...]:
    """Give everything that is wrong with the workshop's plan as it stands.

    Also whether it could be written as a plan file and read again; of the jobs only
    those named in `typed` are looked at for that, all if None.
    """
    try:
        return scheduling.plan_faults(build_plan(), typed)
    except (ValueError, TypeError, KeyError, AttributeError):
        return (UNREADABLE,)


def find_faults_of(
    jobs: Collection[Job], *, typed: bool
) -> tuple[scheduling.Fault, ...]:
    """Give everything that acts on these jobs can have broken.

    `typed` says that somebody filled in facts of theirs, which may be anything.
    """
    if typed and Job.objects.count() > scheduling.MOST_JOBS:
        return (TOO_MANY,)
    try:
        part = build_part({job.pk for job in jobs})
        if typed:
            return scheduling.plan_faults(part, {job.key for job in jobs})
        return scheduling.check_plan(part)
    except (ValueError, TypeError, KeyError, AttributeError):
        return (UNREADABLE,)


def find_ring(*, job: Job, after: Job) -> list[str]:
    """Give the titles of the ring that `job` waiting for `after` would close."""
    order = order_before([after.pk])
    if job.pk != after.pk and job.pk not in order.reached:
        return []
    rows = Job.objects.filter(pk__in={job.pk, after.pk, *order.reached})
    titles = {str(one.pk): str(one) for one in rows}
    waits = {
        str(pk): [str(there) for there, _ in steps] for pk, steps in order.steps.items()
    }
    waits = {str(job.pk): []} | waits
    waits[str(job.pk)].append(str(after.pk))
    return [titles[pk] for pk in scheduling.find_loop(waits) or ()]
