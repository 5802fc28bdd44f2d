"""What the customer has chosen."""

from __future__ import annotations

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.record import change_and_record
from builds.actions.work import locked
from builds.models import Found, Job, Kind, State, User, Workshop


@transaction.atomic
def record_choice(*, by: User, job: Job, choice: str, words: str = "") -> Job:
    """Keep what was chosen and close the question."""
    job = locked(job)
    if job.kind != Kind.DECISION:
        raise Refused(f"“{job}” is not a question for the customer.")
    if job.state == State.DONE:
        return job
    if job.state == State.LEFT_OUT:
        raise Refused(f"“{job}” is no longer asked.")
    now = Workshop.current().clock()
    fields = {
        "state": State.DONE,
        "started": job.started or now,
        "finished": now,
        "remaining": None,
    }
    return change_and_record(
        job, fields, by=by, verb="recorded choice", words=words, told={"choice": choice}
    )


@transaction.atomic
def answer_found_work(*, by: User, job: Job, yes: bool, words: str = "") -> Job:
    """Keep the customer's yes or no to work nobody quoted; no leaves it out."""
    job = locked(job)
    if not job.found:
        raise Refused(f"“{job}” was in the quote.")
    if job.state in (State.DONE, State.UNDER_WAY):
        raise Refused(f"“{job}” has already begun.")
    if not yes and job.safety:
        raise Refused(f"“{job}” is a safety job. It is never left out.")
    fields = {
        "found": Found.YES if yes else Found.NO,
        "state": State.OPEN if yes else State.LEFT_OUT,
    }
    return change_and_record(
        job, fields, by=by, verb="answered found work", words=words
    )
