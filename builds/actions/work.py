"""What people do to a job in the workshop."""

from __future__ import annotations

from django.db import transaction

from builds.actions.errors import NotReady, Refused
from builds.actions.ready import check_may_begin, check_may_end, started_after
from builds.actions.record import change_and_record, record
from builds.models import Job, Kind, Person, State, User, Workshop

AWAY = (Kind.OUTSIDE, Kind.ORDER)


def locked(job: Job) -> Job:
    """Give the job as it is now, nobody else's until this is done."""
    return Job.objects.select_for_update(of=("self",)).get(pk=job.pk)


@transaction.atomic
def start_job(*, by: User, job: Job, person: Person | None = None) -> Job:
    """Begin a job; who begins it is who it is planned for from here on."""
    job = locked(job)
    if job.state == State.UNDER_WAY:
        return job
    _check_may_start(job)
    fields = {"state": State.UNDER_WAY, "started": Workshop.current().clock()}
    if person is not None:
        fields["person"] = person
    return change_and_record(job, fields, by=by, verb="started job")


@transaction.atomic
def stop_job(
    *, by: User, job: Job, remaining: float, reason: str, words: str = ""
) -> Job:
    """Put a job down with so many hours to go, and say why."""
    job = locked(job)
    if job.state != State.UNDER_WAY:
        raise Refused(f"“{job}” is not under way.")
    return change_and_record(
        job,
        {"remaining": remaining},
        by=by,
        verb="stopped job",
        words=words,
        told={"reason": reason},
    )


@transaction.atomic
def finish_job(*, by: User, job: Job, words: str = "") -> Job:
    """End a job (pass a check); what waited for it may go on."""
    job = locked(job)
    if job.state == State.DONE:
        return job
    _check_may_finish(job)
    now = Workshop.current().clock()
    fields = {
        "state": State.DONE,
        "started": job.started or now,
        "finished": now,
        "remaining": None,
    }
    return change_and_record(job, fields, by=by, verb="finished job", words=words)


@transaction.atomic
def reopen_job(*, by: User, job: Job, words: str = "") -> Job:
    """Take back that a job is done, while nothing is built on it."""
    job = locked(job)
    if job.state != State.DONE:
        return job
    later = started_after(job)
    if later:
        raise NotReady(
            f"“{later[0]}” has begun on top of it. Reopen that first.",
            [one.key for one in later],
        )
    state = State.UNDER_WAY if job.sent else State.OPEN
    started = job.started if job.sent else None
    fields = {"state": state, "started": started, "finished": None}
    return change_and_record(job, fields, by=by, verb="reopened job", words=words)


@transaction.atomic
def report_trouble(*, by: User, job: Job, reason: str, words: str = "") -> Job:
    """Tell the lead that something is in the way of a job."""
    record(
        by=by,
        verb="reported trouble",
        subject=job,
        job=job,
        after={"reason": reason},
        words=words,
        planned=False,
    )
    return job


def _check_may_start(job: Job) -> None:
    if job.state == State.DONE:
        raise Refused(f"“{job}” is done.")
    if job.state == State.LEFT_OUT:
        raise Refused(f"“{job}” is left out. Put it back first.")
    if job.kind in AWAY:
        raise Refused(f"“{job}” is not started here: say when it was sent.")
    check_may_begin(job)


def _check_may_finish(job: Job) -> None:
    if job.state == State.LEFT_OUT:
        raise Refused(f"“{job}” is left out. Put it back first.")
    if job.pieces and job.pieces_back < job.pieces:
        raise Refused(f"{job.pieces_back} of {job.pieces} pieces are back.")
    if job.state == State.OPEN:
        check_may_begin(job)
    check_may_end(job)
