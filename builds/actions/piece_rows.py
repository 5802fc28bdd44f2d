"""The pieces of a job as rows: made, parted, moved, and the job's counts from them.

Every move leaves a line on the piece's trail. The counts on the job are what the
engine plans with; whoever moves pieces writes `counts_of` in the same transaction.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.core.files.base import ContentFile

from builds.actions.photographs import put_down
from builds.actions.record import new_key, next_position
from builds.models import Job, Piece, PieceMove, PieceState, User, Workshop
from builds.models.piece import LONGEST

STORES = "stores"
GOODS_IN = "goods-in"
THEIRS = "their works"
WITH_US = (PieceState.HERE, PieceState.BACK, PieceState.REJECTED)


@dataclass(frozen=True, slots=True)
class Where:
    """Who has a piece from now on, where, and who put a name to it."""

    holder: str
    place: str
    state: PieceState
    signed: str = ""
    note: str = ""


def one_line(text: str, otherwise: str) -> str:
    """Make a holder or a place of what may be long, or empty."""
    return " ".join(text.split())[:LONGEST] or otherwise


def rows_of(job: Job, by: User) -> list[Piece]:
    """Give the job's pieces; a bare count becomes pieces without a name."""
    rows = list(job.piece_list.order_by("position", "pk"))
    if rows or not job.pieces:
        return rows
    made = []
    out = job.sent is not None
    held = one_line(job.holder or str(job.vendor or ""), "the supplier")
    if out and job.pieces > job.pieces_back:
        there = Where(held, THEIRS, PieceState.OUT)
        made.append(add(job, job.pieces - job.pieces_back, there, by))
    if out and job.pieces_back:
        us = Where(house(), GOODS_IN, PieceState.BACK)
        made.append(add(job, job.pieces_back, us, by))
    if not out:
        made.append(add(job, job.pieces, Where(house(), STORES, PieceState.HERE), by))
    return made


def house() -> str:
    """Give the workshop's own name, for what nobody in particular holds."""
    return one_line(Workshop.current().name, "the workshop")


def add(job: Job, count: int, where: Where, by: User, name: str = "") -> Piece:
    """Put pieces on the job's list."""
    row = Piece.objects.create(
        key=new_key(Piece, f"{job.key}-piece"),
        position=next_position(Piece),
        job=job,
        name=name,
        count=count,
        holder=where.holder,
        place=where.place,
        state=where.state,
    )
    _trail([row], where, by, None)
    return row


def part(piece: Piece, count: int) -> Piece:
    """Take some of alike pieces apart from the rest, with the way they came."""
    if count >= piece.count:
        return piece
    Piece.objects.filter(pk=piece.pk).update(count=piece.count - count)
    piece.count -= count
    row = Piece.objects.create(
        key=new_key(Piece, piece.key),
        position=next_position(Piece),
        job_id=piece.job_id,
        name=piece.name,
        count=count,
        holder=piece.holder,
        place=piece.place,
        state=piece.state,
    )
    came = list(piece.trail.all())
    for line in came:
        line.pk, line.piece = None, row
    PieceMove.objects.bulk_create(came)
    return row


def move(
    pieces: Iterable[Piece],
    where: Where,
    by: User,
    photo: ContentFile[bytes] | None = None,
) -> None:
    """Let pieces change hands, and write it on their trails."""
    rows = list(pieces)
    for row in rows:
        row.holder, row.place, row.state = where.holder, where.place, where.state
    Piece.objects.bulk_update(rows, ["holder", "place", "state", "name", "job"])
    _trail(rows, where, by, photo)


def counts_of(job: Job) -> dict[str, Any]:
    """Give what the rows say of a job: how many, how many back, who has them."""
    rows = list(Piece.objects.filter(job=job))
    away = [one.holder for one in rows if one.state != PieceState.BACK]
    holders = dict.fromkeys(away or [one.holder for one in rows])
    return {
        "pieces": sum(one.count for one in rows),
        "pieces_back": sum(one.count for one in rows if one.state == PieceState.BACK),
        "holder": " and ".join(holders),
    }


def facts_of(pieces: Iterable[Piece]) -> dict[str, dict[str, Any]]:
    """Give where pieces are, by key, for the record and the way back."""
    return {
        one.key: {
            "job": one.job.key,
            "name": one.name,
            "count": one.count,
            "holder": one.holder,
            "place": one.place,
            "state": str(one.state),
        }
        for one in pieces
    }


def _trail(
    rows: Iterable[Piece],
    where: Where,
    by: User,
    photo: ContentFile[bytes] | None,
) -> None:
    at: datetime = Workshop.current().clock()
    kept = ""
    for row in rows:
        line = PieceMove(
            piece=row,
            at=at,
            holder=where.holder,
            place=where.place,
            state=where.state,
            count=row.count,
            signed=where.signed,
            note=where.note,
            by=by,
        )
        if photo is not None and not kept:
            kept = put_down(line, photo)
        elif kept:
            line.photo.name = kept
        line.save()
