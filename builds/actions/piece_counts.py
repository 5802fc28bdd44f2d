"""Where only a number is said of a job whose pieces are listed: the list keeps step."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from builds.actions.errors import Refused
from builds.actions.piece_rows import (
    GOODS_IN,
    THEIRS,
    WITH_US,
    Where,
    counts_of,
    facts_of,
    house,
    move,
    one_line,
)
from builds.models import Job, Piece, PieceState, User


def rows_were(job: Job) -> dict[str, Any]:
    """Give where the listed pieces are before an act, for the way back."""
    rows = list(job.piece_list.all())
    return {"rows_were": facts_of(rows)} if rows else {}


def pieces_out(by: User, job: Job, count: int | None) -> dict[str, Any]:
    """Send the listed pieces off with their job; a count that differs is refused."""
    rows = list(job.piece_list.all())
    if not rows:
        return {}
    _check_total(job, rows, count)
    leaving = [one for one in rows if one.state in WITH_US]
    held = one_line(str(job.vendor or ""), "the supplier")
    move(leaving, Where(held, THEIRS, PieceState.OUT, str(by)), by)
    return counts_of(job)


def pieces_counted(by: User, job: Job, back: int) -> dict[str, Any]:
    """Count listed pieces in by their number alone: all of them, or as they are."""
    rows = list(job.piece_list.all())
    if not rows:
        return {}
    here = sum(one.count for one in rows if one.state == PieceState.BACK)
    if back == here:
        return counts_of(job)
    if back != sum(one.count for one in rows):
        raise Refused(
            f"The pieces of “{job}” are listed by name. Count them in at goods-in, "
            "where each has its line."
        )
    coming = [one for one in rows if one.state != PieceState.BACK]
    move(coming, Where(house(), GOODS_IN, PieceState.BACK, str(by)), by)
    return counts_of(job)


def check_count(job: Job, fields: Mapping[str, Any]) -> None:
    """Refuse a number of pieces that the job's list does not add up to."""
    if "pieces" in fields:
        rows = list(job.piece_list.all())
        _check_total(job, rows, fields["pieces"] or 0)


def _check_total(job: Job, rows: list[Piece], count: int | None) -> None:
    total = sum(one.count for one in rows)
    if rows and count is not None and count != total:
        raise Refused(
            f"The list of “{job}” has {total} pieces, not {count}. "
            "Count again, or correct the list."
        )
