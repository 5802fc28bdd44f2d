"""What goes to a vendor and comes back."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.db import transaction

from builds.actions.errors import Refused
from builds.actions.piece_counts import pieces_counted, pieces_out, rows_were
from builds.actions.ready import check_may_begin, check_may_end
from builds.actions.record import change_and_record
from builds.actions.returns import keep_return
from builds.actions.work import AWAY, locked
from builds.models import Job, State, User, Workshop

# A plan file may tell only the day it was sent: its state is still open then.
STILL_OUT = (State.OPEN, State.UNDER_WAY)


@transaction.atomic
def send_job(
    *,
    by: User,
    job: Job,
    sent: date | None = None,
    pieces: int | None = None,
    words: str = "",
) -> Job:
    """Say that a job has left for its vendor, or that a part is ordered."""
    job = locked(job)
    if job.sent is not None and job.state in STILL_OUT:
        return job
    check_may_send(job)
    now = Workshop.current().clock()
    fields: dict[str, Any] = {
        "state": State.UNDER_WAY,
        "started": job.started or now,
        "sent": sent or now.date(),
    }
    if pieces is not None:
        fields["pieces"] = pieces
    told = rows_were(job)
    fields |= pieces_out(by, job, pieces)
    return change_and_record(
        job, fields, by=by, verb="sent job", words=words, told=told
    )


@transaction.atomic
def check_in_pieces(
    *,
    by: User,
    job: Job,
    pieces_back: int,
    pieces_noted: int | None = None,
    words: str = "",
) -> Job:
    """Count pieces in: how many are back all told, and how many the note says."""
    job = locked(job)
    if job.kind not in AWAY or job.state not in STILL_OUT or job.sent is None:
        raise Refused(f"“{job}” is not with a vendor.")
    if job.pieces is not None and pieces_back > job.pieces:
        raise Refused(f"{job.pieces} went out; {pieces_back} cannot be back.")
    fields: dict[str, Any] = {"pieces_back": pieces_back}
    told = rows_were(job)
    fields |= pieces_counted(by, job, pieces_back)
    if job.pieces is None:
        fields["pieces"] = pieces_back
    if pieces_noted is not None:
        fields["pieces_noted"] = pieces_noted
    return change_and_record(
        job, fields, by=by, verb="checked in pieces", words=words, told=told
    )


@transaction.atomic
def book_back(*, by: User, job: Job, words: str = "") -> Job:
    """Accept what a vendor sent back: the job is done, and how long it took is kept."""
    job = locked(job)
    if job.state == State.DONE:
        return job
    if job.sent is None or job.kind not in AWAY:
        raise Refused(f"“{job}” is not with a vendor.")
    check_may_end(job)
    now = Workshop.current().clock()
    fields: dict[str, Any] = {
        "state": State.DONE,
        "finished": now,
        "remaining": None,
        "started": job.started or now,
    }
    if job.pieces is not None:
        fields["pieces_back"] = job.pieces
    were = rows_were(job)
    if job.pieces is not None:
        fields |= pieces_counted(by, job, job.pieces)
    told: dict[str, Any] = were | keep_return(job, now.date())
    return change_and_record(
        job, fields, by=by, verb="booked back", words=words, told=told
    )


def check_may_send(job: Job) -> None:
    """Refuse to send what is done, not a vendor's, or not ready to leave."""
    if job.kind not in AWAY:
        raise Refused(f"“{job}” is not work for a vendor.")
    if job.state in (State.DONE, State.LEFT_OUT):
        raise Refused(f"“{job}” is {job.get_state_display().lower()}.")
    check_may_begin(job)
