"""Acts on a consignment, as one of its jobs sees them.

Such an act is one Event that names no job and holds every job of it by key.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db.models import Q

from builds.models import Build, Event, Job, Kind

VERBS = {
    "sent consignment": "sent it out with others",
    "counted in consignment": "counted it in with others",
}
TRAVELS = (Kind.OUTSIDE, Kind.ORDER)

Facts = Mapping[str, Any]


def acts_together(job: Job, most: int) -> list[Event]:
    """Give the newest acts by which a job left or came back with others."""
    if job.kind not in TRAVELS:
        return []
    acts = Event.objects.select_related("by", "undoes")
    return list(acts.filter(_of([job.key]))[:most])


def of_car(build: Build) -> Q:
    """Give what picks the acts on a car, those by which any of its jobs travelled too.

    Its jobs are looked up first: an act names them by key, not by row.
    """
    travels = build.jobs.filter(kind__in=TRAVELS).order_by()
    keys = list(travels.values_list("key", flat=True))
    return Q(build=build) | _of(keys) if keys else Q(build=build)


def _of(keys: list[str]) -> Q:
    theirs = Q(verb__in=VERBS, after__jobs__has_any_keys=keys)
    taken_back = Q(undoes__verb__in=VERBS, undoes__after__jobs__has_any_keys=keys)
    return Q(job=None) & (theirs | taken_back)


def own_part(event: Event, job: Job) -> tuple[Facts, Facts]:
    """Give what was and what is of this job alone."""
    if event.job_id is not None:
        return event.before, event.after
    act = event.undoes or event
    was, now = act.before["jobs"][job.key], act.after["jobs"][job.key]
    if event.undoes is not None:
        return now, was
    return was, now | {"signed": act.after["signed"]}
