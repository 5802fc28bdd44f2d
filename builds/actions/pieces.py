"""The list of a job's pieces: named, counted, moved about, looked for."""

from __future__ import annotations

from django.core.files.base import ContentFile
from django.db import transaction

from builds.actions.claim import check_seen
from builds.actions.errors import Refused
from builds.actions.photographs import no_photograph_without_the_act
from builds.actions.piece_rows import (
    Where,
    add,
    counts_of,
    facts_of,
    house,
    move,
    one_line,
    part,
    rows_of,
)
from builds.actions.record import change, check_sane, record
from builds.actions.work import AWAY, locked
from builds.models import Job, Piece, PieceState, State, User


@transaction.atomic
def list_piece(
    *,
    by: User,
    job: Job,
    name: str,
    count: int = 1,
    place: str = "",
    version: int | None = None,
) -> Piece:
    """Name pieces of a job; those that were only counted so far get the name first."""
    job = locked(job)
    check_seen(job, version)
    if job.kind not in AWAY or job.state in (State.DONE, State.LEFT_OUT):
        raise Refused(f"“{job}” has no pieces to go out.")
    check_sane(name)
    if not name.strip() or count < 1:
        raise Refused("Write what it is and how many.")
    row = _named_from_the_count(by, job, name, count)
    if row is None:
        if job.sent is not None:
            raise Refused(f"{job.pieces} pieces went out, and all of them are named.")
        where = Where(house(), one_line(place, "stores"), PieceState.HERE, str(by))
        row = add(job, count, where, by, name)
    _written(by, job, "listed piece", row)
    return row


def _named_from_the_count(by: User, job: Job, name: str, count: int) -> Piece | None:
    unnamed = [one for one in rows_of(job, by) if not one.name and one.count >= count]
    if not unnamed:
        return None
    row = part(unnamed[0], count)
    row.name = name
    row.save(update_fields=["name"])
    return row


@transaction.atomic
def strike_piece(*, by: User, piece: Piece) -> Job:
    """Take a piece off the list that was put there by mistake and never moved."""
    job = locked(piece.job)
    if piece.trail.count() > 1 or piece.state != PieceState.HERE:
        raise Refused(f"“{piece}” has a trail. It stays on the list.")
    facts = facts_of([piece])
    piece.delete()
    rest = counts_of(job) if job.piece_list.exists() else {"pieces": None, "holder": ""}
    change(job, rest)
    record(
        by=by, verb="struck piece", subject=job, job=job, before={"piece_rows": facts}
    )
    return job


@no_photograph_without_the_act
@transaction.atomic
def move_piece(
    *,
    by: User,
    piece: Piece,
    holder: str,
    place: str,
    signed: str = "",
    note: str = "",
    photo: ContentFile[bytes] | None = None,
) -> Piece:
    """Say who has a piece now and where; with a vendor it stays until counted in."""
    job = locked(piece.job)
    piece = Piece.objects.get(pk=piece.pk)
    were = facts_of([piece])
    where = Where(
        one_line(holder, piece.holder),
        one_line(place, piece.place),
        PieceState(piece.state),
        signed,
        note,
    )
    move([piece], where, by, photo)
    before, after = change(job, counts_of(job))
    record(
        by=by,
        verb="moved piece",
        subject=piece,
        job=job,
        before=before,
        after=after | {"rows_were": were, "signed": signed},
        words=note,
    )
    return piece


def _written(by: User, job: Job, verb: str, row: Piece) -> None:
    change(job, counts_of(job))
    record(
        by=by, verb=verb, subject=job, job=job, after={"piece_rows": facts_of([row])}
    )
