"""Acts on a consignment, as one of its jobs sees them.

Such an act is one Event that names no job and holds every job of it by key.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db.models import Q

from builds.models import Event, Job, Kind

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
    acts = Event.objects.filter(job=None).select_related("by", "undoes")
    theirs = Q(verb__in=VERBS, after__jobs__has_key=job.key)
    taken_back = Q(undoes__verb__in=VERBS, undoes__after__jobs__has_key=job.key)
    return list(acts.filter(theirs | taken_back)[:most])


def own_part(event: Event, job: Job) -> tuple[Facts, Facts]:
    """Give what was and what is of this job alone."""
    if event.job_id is not None:
        return event.before, event.after
    act = event.undoes or event
    was, now = act.before["jobs"][job.key], act.after["jobs"][job.key]
    if event.undoes is not None:
        return now, was
    return was, now | {"signed": act.after["signed"]}
