"""What a vendor sees by their own link: their pieces and their dates, nothing else.

Built field by field, so that nothing a job holds gets out because it was added later.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from builds.models import Job, ReplyState, State, Vendor

OUT = (State.OPEN, State.UNDER_WAY)


@dataclass(frozen=True, slots=True)
class TheirPiece:
    """One thing that is with them."""

    key: str
    what: str
    pieces: int | None
    back: int
    since: date | None
    promised: date | None
    waiting: bool
    put_in: date | None


def with_them(vendor: Vendor) -> tuple[TheirPiece, ...]:
    """Give what is out at a vendor, longest out first."""
    jobs = Job.objects.filter(vendor=vendor, sent__isnull=False, state__in=OUT)
    rows = jobs.order_by("sent", "position").prefetch_related("replies")
    return tuple(_piece(job) for job in rows)


def one_of_theirs(vendor: Vendor, key: str) -> Job | None:
    """Give a job that is out at a vendor by its key; nobody else's."""
    jobs = Job.objects.filter(vendor=vendor, sent__isnull=False, state__in=OUT)
    return jobs.filter(key=key).first()


def _piece(job: Job) -> TheirPiece:
    waiting = [one for one in job.replies.all() if one.state == ReplyState.OPEN]
    return TheirPiece(
        key=job.key,
        what=job.title or job.key,
        pieces=job.pieces,
        back=job.pieces_back,
        since=job.sent,
        promised=job.promised,
        waiting=bool(waiting),
        put_in=waiting[-1].date if waiting else None,
    )
