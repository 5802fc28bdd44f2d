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
    asked: str = "",
    speaker: str = "",
    could_start: date | None = None,
) -> Promise:
    """Keep a date a vendor gave for a job (none: they would not say).

    `could_start` is the day from which they could work on it, where that is told.
    """
    job = locked(job)
    if job.kind not in AWAY:
        raise Refused(f"“{job}” is not work for a vendor.")
    for words in (said, asked, speaker):
        check_sane(words)
    given = given or Workshop.current().clock().date()
    promise = Promise.objects.create(
        job=job,
        date=promised,
        given=given,
        by=str(by),
        said=said,
        asked=asked,
        speaker=speaker,
    )
    fields = {"promised": promised}
    if could_start is not None:
        fields["could_start"] = could_start
    told = {"given": given, "asked": asked, "speaker": speaker}
    change_and_record(
        job,
        fields,
        by=by,
        verb="recorded promise",
        words=said,
        told={name: value for name, value in told.items() if value},
    )
    return promise
