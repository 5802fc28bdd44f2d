"""A consignment leaves: counted out, signed for, every job of it at one stroke."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from django.core.files.base import ContentFile
from django.db import transaction

from builds.actions.claim import claim
from builds.actions.errors import Refused
from builds.actions.outside import check_may_send
from builds.actions.photographs import no_photograph_without_the_act
from builds.actions.piece_rows import (
    THEIRS,
    WITH_US,
    Where,
    counts_of,
    facts_of,
    move,
    one_line,
    rows_of,
)
from builds.actions.record import change, check_sane, plain, record
from builds.actions.work import locked
from builds.models import Consignment, Job, Piece, PieceState, State, User, Workshop

SENT = "sent consignment"


@dataclass(frozen=True, slots=True)
class DropOff:
    """Who took it, what was counted out by the job's key, and a photograph."""

    signed: str
    counts: Mapping[str, int] = field(default_factory=dict)
    words: str = ""
    photo: ContentFile[bytes] | None = None


@no_photograph_without_the_act
@transaction.atomic
def send_consignment(
    *, by: User, consignment: Consignment, version: int, drop_off: DropOff
) -> Consignment:
    """Say that it has left; nothing leaves unless everything in it may."""
    if consignment.left is not None:
        raise Refused(f"“{consignment}” has left already.")
    if not drop_off.signed.strip():
        raise Refused("Write the name of whoever takes it there.")
    check_sane(drop_off.signed)
    now = Workshop.current().clock()
    consignment = claim(consignment, version, left=now, signed=drop_off.signed)
    before: dict[str, Any] = {}
    after: dict[str, Any] = {}
    rows_before: dict[str, Any] = {}
    rows_after: dict[str, Any] = {}
    loads = consignment.loads.select_related("job").order_by("job_id")
    jobs = [locked(load.job) for load in loads]
    for job in jobs:
        check_may_send(job)
        rows = _counted_out(by, job, drop_off)
        rows_before |= facts_of(rows)
        _hand_over(by, job, rows, drop_off)
        was, fields = change(job, _gone(job, now) | counts_of(job))
        before[job.key], after[job.key] = plain(was), plain(fields)
        rows_after |= facts_of(rows)
    about = {"consignment": consignment.key}
    record(
        by=by,
        verb=SENT,
        subject=consignment.name or consignment.vendor,
        before=about | {"jobs": before, "piece_rows": rows_before},
        after=about
        | {"jobs": after, "piece_rows": rows_after, "signed": drop_off.signed},
        words=drop_off.words,
        typed=False,
        touched=jobs,
    )
    return consignment


def _gone(job: Job, now: datetime) -> dict[str, Any]:
    started = job.started or now
    return {"state": State.UNDER_WAY, "started": started, "sent": now.date()}


def _counted_out(by: User, job: Job, drop_off: DropOff) -> list[Piece]:
    """Give the job's pieces, if they are as many as were counted at the door."""
    count = drop_off.counts.get(job.key)
    if job.pieces is None:
        job.pieces = count
    rows = rows_of(job, by)
    total = sum(one.count for one in rows)
    if not total:
        raise Refused(f"“{job}”: say how many pieces go.")
    if count is not None and count != total:
        raise Refused(
            f"“{job}”: the list says {total} and {count} were counted. "
            "Count again, or correct the list before it leaves."
        )
    return rows


def _hand_over(by: User, job: Job, rows: list[Piece], drop_off: DropOff) -> None:
    held = one_line(str(job.vendor or ""), "the vendor")
    where = Where(held, THEIRS, PieceState.OUT, drop_off.signed, drop_off.words)
    move([one for one in rows if one.state in WITH_US], where, by, drop_off.photo)
