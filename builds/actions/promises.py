"""Dates vendors give: newer ones replace, none is deleted."""

from __future__ import annotations

from datetime import date

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.record import change_and_record, check_sane
from builds.actions.work import AWAY, locked
from builds.models import Job, Promise, User, Workshop


@transaction.atomic
def record_promise(
    *,
    by: User,
    job: Job,
    promised: date | None,
    said: str = "",
    given: date | None = None,
) -> Promise:
    """Keep a date a vendor gave for a job (none: they would not say)."""
    job = locked(job)
    if job.kind not in AWAY:
        raise Refused(f"“{job}” is not work for a vendor.")
    check_sane(said)
    given = given or Workshop.current().clock().date()
    promise = Promise.objects.create(
        job=job, date=promised, given=given, by=str(by), said=said
    )
    change_and_record(
        job,
        {"promised": promised},
        by=by,
        verb="recorded promise",
        words=said,
        told={"given": given},
    )
    return promise
