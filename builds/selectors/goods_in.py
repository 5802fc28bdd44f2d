"""What is to be counted in: the list of things out, and one thing line by line."""

from __future__ import annotations

from dataclasses import dataclass

from builds.models import (
    Consignment,
    Job,
    LinkKind,
    Piece,
    State,
    Workshop,
)
from builds.selectors.pieces_out import (
    ON_THEIR_WAY,
    STILL_OUT,
    OutLine,
    holder_of,
    out_jobs,
    say_mismatch,
    things_out,
)


@dataclass(frozen=True, slots=True)
class CountLine:
    """One line to count; an empty key is a lot that was never listed."""

    key: str
    name: str
    count: int | None
    missing: bool

    @property
    def single(self) -> bool:
        """Say whether it is one piece with a name of its own."""
        return self.count == 1 and bool(self.key) and bool(self.name)


@dataclass(frozen=True, slots=True)
class JobToCount:
    """One job with the lines that may be counted in, and who waits for it."""

    job: Job
    holder: str
    lines: tuple[CountLine, ...]
    waiting: tuple[tuple[str, str], ...]
    mismatch: str

    @property
    def out(self) -> int | None:
        """Give how many pieces are to be counted."""
        counts = [one.count for one in self.lines]
        return None if None in counts else sum(one or 0 for one in counts)


@dataclass(frozen=True, slots=True)
class Waiting:
    """What can be counted in now."""

    together: tuple[Consignment, ...]
    singly: tuple[OutLine, ...]


def to_count_in() -> Waiting:
    """Give everything that can be counted in: what left together, and what did not."""
    today = Workshop.current().clock().date()
    out = things_out(today)
    keys = {one.consignment for one in out}
    left = Consignment.objects.filter(left__isnull=False, key__in=keys)
    together = tuple(left.select_related("vendor"))
    batches = {one.key for one in together}
    singly = tuple(one for one in out if one.consignment not in batches)
    return Waiting(together, singly)


def job_to_count(job: Job) -> JobToCount:
    """Give one job's lines."""
    rows = [one for one in job.piece_list.all() if one.state in ON_THEIR_WAY]
    lines = tuple(_line(one) for one in rows)
    if not job.piece_list.all():
        out = None if job.pieces is None else job.pieces - job.pieces_back
        lines = (CountLine("", "", out, False),)
    links = job.links_on.filter(job__state=State.OPEN, job__sent=None)
    links = links.exclude(kind=LinkKind.BY).select_related("job")
    waiting = {link.job.key: str(link.job) for link in links}
    return JobToCount(
        job, holder_of(job), lines, tuple(waiting.items()), say_mismatch(job)
    )


def one_to_count(job: Job) -> tuple[JobToCount, ...]:
    """Give one job's lines, or nothing if it is not out."""
    row = out_jobs().filter(pk=job.pk).first()
    return (job_to_count(row),) if row else ()


def jobs_to_count(consignment: Consignment) -> tuple[JobToCount, ...]:
    """Give the jobs of a consignment that are still out, each with its lines."""
    jobs = Job.objects.filter(
        consignments=consignment, state__in=STILL_OUT, sent__isnull=False
    )
    rows = jobs.select_related("build", "vendor").prefetch_related("piece_list")
    return tuple(job_to_count(one) for one in rows)


def _line(piece: Piece) -> CountLine:
    return CountLine(piece.key, piece.name, piece.count, piece.state == ON_THEIR_WAY[1])
