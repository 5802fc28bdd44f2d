"""What was counted at goods-in, and how it differs from what should be there."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from builds.actions.errors import Refused
from builds.actions.piece_rows import rows_of
from builds.models import Job, Piece, PieceState, User

ON_THEIR_WAY = (PieceState.OUT, PieceState.MISSING)


@dataclass(frozen=True, slots=True)
class Counted:
    """One line of the list as it was counted; what is in none of these is to come."""

    good: int = 0
    rejected: int = 0
    missing: int = 0
    which: str = ""
    why: str = ""

    @property
    def any(self) -> bool:
        """Say whether anything of it was counted or given up."""
        return bool(self.good or self.rejected or self.missing)


@dataclass(frozen=True, slots=True)
class Again:
    """How long it takes to put right what is not there, in the vendor's days."""

    low: float | None = None
    likely: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Return:
    """What came back of one job: counts by the piece's key, and what is to follow.

    `waits` are the jobs that wait for what is not here, by key; None: all of them.
    `accepted` says that the good ones are looked over and the work may go on.
    """

    job: Job
    counts: Mapping[str, Counted]
    noted: int | None = None
    version: int | None = None
    accepted: bool = False
    again: Again = field(default_factory=Again)
    waits: frozenset[str] | None = None


def listed(job: Job, by: User, ret: Return) -> dict[str, Piece]:
    """Give the job's pieces by key; an unnamed lot is counted under an empty key."""
    lot = ret.counts.get("")
    if lot is not None and job.pieces is None:
        job.pieces = lot.good + lot.rejected + lot.missing
    rows = rows_of(job, by)
    found = {one.key: one for one in rows}
    out = due(rows)
    if lot is not None and out:
        found[""] = out[0]
    return found


def due(rows: Iterable[Piece]) -> list[Piece]:
    """Give the pieces that may be counted in."""
    return [one for one in rows if one.state in ON_THEIR_WAY]


def mismatch(
    title: str, out: int, counted: int, noted: int | None, named: int | None = None
) -> tuple[str, ...]:
    """Say how list, note and count differ; nothing if all three agree.

    `named` is how many of those that are not there have been named as missing.
    """
    said = []
    if counted < out:
        said.append(f"{title}: {out} are out and {counted} were counted.")
    if noted is not None and noted != counted:
        said.append(f"{title}: their note says {noted} and {counted} were counted.")
    if said and named is not None and named < out - counted:
        left = out - counted - named
        said.append(f"{left} of them are not named as missing: still with the vendor.")
    return tuple(said)


def check_counts(rows: Mapping[str, Piece], ret: Return) -> None:
    """Refuse what cannot be: more than went out, or missing without a name."""
    title = f"“{ret.job}”"
    for key, one in ret.counts.items():
        row = rows.get(key)
        if row is None or (row.state not in ON_THEIR_WAY and one.any):
            raise Refused(f"{title}: one of its pieces is no longer out. Count again.")
        total = one.good + one.rejected + one.missing
        if total > row.count:
            raise Refused(f"“{row}”: {row.count} went out; {total} cannot be counted.")
        if one.missing and not (one.which or _speaks_for_itself(row)):
            raise Refused(f"“{row}”: say which of the {row.count} is missing.")
    counted = sum(one.good + one.rejected for one in ret.counts.values())
    missing = sum(one.missing for one in ret.counts.values())
    if ret.noted is not None and ret.noted > counted + missing:
        raise Refused(
            f"{title}: their note says {ret.noted}, and {counted} were counted. "
            "Name what is missing before you sign."
        )


def _speaks_for_itself(row: Piece) -> bool:
    return bool(row.name) and row.count == 1
