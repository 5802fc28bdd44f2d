"""What a job is: made, changed, taken out of scope and put back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.piece_counts import check_count
from builds.actions.ready import commitments_waiting_for
from builds.actions.record import change, create, plain, record
from builds.models import Build, Job, Kind, Place, PlaceUse, State, User

# How far a job has got and who has it is changed by the actions that say so.
MAY_CHANGE = frozenset(
    [
        "title",
        "kind",
        "low",
        "likely",
        "high",
        "fixed",
        "trade",
        "trade_level",
        "people",
        "person",
        "level",
        "phase",
        "area",
        "vendor",
        "slot",
        "commitment",
        "unbroken",
        "safety",
        "not_before",
        "needed_by",
        "pieces",
        "pieces_noted",
        "holder",
        "rework_chance",
        "found",
        "snag",
        "note",
        "remaining",
        "promised",
        "build",
        "process",
        "colour",
        "alloy",
        "kilos",
        "visible",
        "value",
    ]
)


@transaction.atomic
def create_job(
    *,
    by: User,
    build: Build | None,
    title: str,
    places: Iterable[tuple[Place, int]] = (),
    **fields: Any,
) -> Job:
    """Add a job to a car."""
    _allowed(fields)
    job = create(Job, title, {"build": build, "title": title, **fields})
    put_in_places(job, places)
    after = plain({"build": build, "title": title, **fields})
    record(by=by, verb="created job", subject=job, job=job, after=after)
    return job


@transaction.atomic
def change_job(
    *, by: User, job: Job, fields: Mapping[str, Any], version: int | None = None
) -> Job:
    """Change what a job is; raises Conflict if it is no longer at `version`."""
    _allowed(fields)
    check_count(job, fields)
    before, after = change(job, fields, version=version)
    record(by=by, verb="changed job", subject=job, job=job, before=before, after=after)
    return job


@transaction.atomic
def set_places(
    *,
    by: User,
    job: Job,
    places: Iterable[tuple[Place, int]],
    version: int | None = None,
) -> Job:
    """Say where a job is done and how much room it takes there."""
    before = {use.place.key: use.uses for use in job.place_uses.select_related("place")}
    change(job, {}, version=version)
    job.place_uses.all().delete()
    after = put_in_places(job, places)
    record(
        by=by,
        verb="moved job",
        subject=job,
        job=job,
        before={"places": before},
        after={"places": after},
    )
    return job


@transaction.atomic
def leave_out_job(*, by: User, job: Job, words: str = "") -> Job:
    """Take a job out of scope, for now; never a safety job or a due check."""
    if job.state == State.LEFT_OUT:
        return job
    check_may_leave_out(job)
    before, after = change(job, {"state": State.LEFT_OUT})
    record(
        by=by,
        verb="left out job",
        subject=job,
        job=job,
        before=before,
        after=after,
        words=words,
    )
    return job


@transaction.atomic
def restore_job(*, by: User, job: Job) -> Job:
    """Put a job that was left out back, as far as it had got."""
    if job.state != State.LEFT_OUT:
        return job
    state = State.UNDER_WAY if job.started or job.sent else State.OPEN
    before, after = change(job, {"state": state})
    record(by=by, verb="restored job", subject=job, job=job, before=before, after=after)
    return job


def _allowed(fields: Mapping[str, Any]) -> None:
    for name in fields:
        if name not in MAY_CHANGE:
            raise Refused(f"“{name}” is not changed here.")


def put_in_places(job: Job, places: Iterable[tuple[Place, int]]) -> dict[str, int]:
    """Write where a job is done; give how much it takes up in each place."""
    uses = {place.key: PlaceUse(job=job, place=place, uses=n) for place, n in places}
    PlaceUse.objects.bulk_create(uses.values())
    return {key: use.uses for key, use in uses.items()}


def check_may_leave_out(job: Job) -> None:
    """Refuse to leave out what keeps people safe, is done, or is a check due."""
    if job.safety:
        raise Refused(f"“{job}” is a safety job. It is never left out.")
    if job.state == State.DONE:
        raise Refused(f"“{job}” is done. What is done stays.")
    waiting = commitments_waiting_for(job) if job.kind == Kind.CHECK else []
    if waiting:
        raise Refused(
            f"“{waiting[0]}” cannot be undone and waits for this check. "
            "It has to be passed, not left out."
        )
