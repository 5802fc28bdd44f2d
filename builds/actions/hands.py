"""Who does a job: a person by name, or whoever is free."""

from __future__ import annotations

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.record import change, record
from builds.actions.work import locked
from builds.models import Job, Person, User
from builds.selectors.who import why_no_hands, why_not


@transaction.atomic
def name_person(*, by: User, job: Job, person: Person | None) -> Job:
    """Give a job to somebody by name; to None: to whoever is free when it comes up."""
    job = locked(job)
    refusal = why_no_hands(job) or (why_not(job, person) if person else "")
    if refusal:
        raise Refused(refusal)
    if job.person_id == (person.pk if person else None):
        return job
    before, after = change(job, {"person": person})
    record(
        by=by,
        verb="named person" if person else "freed job",
        subject=job,
        job=job,
        before=before,
        after=after,
        typed=False,
    )
    return job
