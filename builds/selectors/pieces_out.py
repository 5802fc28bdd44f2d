"""What is out: how many of what, with whom, since when and for when promised."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Q, QuerySet

from builds.models import Job, Kind, Piece, PieceState, State

ON_THEIR_WAY = (PieceState.OUT, PieceState.MISSING)
STILL_OUT = (State.OPEN, State.UNDER_WAY)
BEGUN = Q(sent__isnull=False) | Q(state=State.UNDER_WAY)
LEFT = Q(sent__isnull=False) | Q(state=State.UNDER_WAY, kind=Kind.OUTSIDE)
PIECE_WORDS = {
    PieceState.HERE: "on the shelf",
    PieceState.OUT: "away",
    PieceState.BACK: "checked in",
    PieceState.REJECTED: "rejected",
    PieceState.MISSING: "missing",
}


@dataclass(frozen=True, slots=True)
class OutLine:
    """A thing that is out."""

    key: str
    title: str
    car: str
    holder: str
    pieces: int | None
    back: int
    since: date | None
    promised: date | None
    late: bool
    together: str
    consignment: str
    mismatch: str
    missing: int

    @property
    def out(self) -> int | None:
        """Give how many are still out."""
        return None if self.pieces is None else self.pieces - self.back


def things_out(today: date) -> tuple[OutLine, ...]:
    """Give everything that left and is not all back and accepted, oldest first."""
    jobs = out_jobs().order_by("position", "pk")
    lines = [_line(one, today) for one in jobs]
    return tuple(sorted(lines, key=lambda one: one.since or today))


def out_jobs() -> QuerySet[Job]:
    """Give the jobs whose pieces are with somebody else."""
    jobs = Job.objects.filter(
        LEFT, kind__in=(Kind.OUTSIDE, Kind.ORDER), state__in=STILL_OUT
    )
    jobs = jobs.exclude(build__left_out=True).select_related("build", "vendor")
    return jobs.prefetch_related("consignments", "piece_list")


def holder_of(job: Job) -> str:
    """Give who has a job's parts."""
    return job.holder or str(job.vendor or "the supplier")


def out_since(job: Job) -> date | None:
    """Give the day a job's parts left, or the day work on them began."""
    return job.sent or (job.started.date() if job.started else None)


def say_mismatch(job: Job) -> str:
    """Say that the vendor's note and our list differ, while the job is out."""
    noted = job.pieces_noted
    if noted is None or job.pieces is None or noted == job.pieces:
        return ""
    return f"{job.pieces} went, their note says {noted}."


def missing_of(rows: Iterable[Piece]) -> int:
    """Give how many pieces are missing."""
    return sum(one.count for one in rows if one.state == PieceState.MISSING)


def _line(job: Job, today: date) -> OutLine:
    together = next(iter(job.consignments.all()), None)
    return OutLine(
        key=job.key,
        title=str(job),
        car=str(job.build) if job.build else "no car",
        holder=holder_of(job),
        pieces=job.pieces,
        back=job.pieces_back,
        since=out_since(job),
        promised=job.promised,
        late=bool(job.promised and job.promised < today),
        together=str(together) if together else "",
        consignment=together.key if together else "",
        mismatch=say_mismatch(job),
        missing=missing_of(job.piece_list.all()),
    )
