"""Goods in: pieces counted and signed for, of one job or of a whole consignment.

One transaction and one Event, however many jobs came back together. The version of
the page is checked in the same statement that writes, so of two people who count in
the same pieces one is told.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from django.core.files.base import ContentFile
from django.db import transaction

from builds.actions.claim import check_seen, claim
from builds.actions.counting import Counted, Return, check_counts, due, listed
from builds.actions.errors import Refused
from builds.actions.fresh_steps import fresh_step, made_and_waiting
from builds.actions.outside import STILL_OUT
from builds.actions.photographs import no_photograph_without_the_act
from builds.actions.piece_rows import (
    GOODS_IN,
    Where,
    counts_of,
    facts_of,
    move,
    one_line,
    part,
)
from builds.actions.ready import check_may_end
from builds.actions.record import change, plain, record
from builds.actions.returns import keep_return
from builds.actions.work import AWAY, locked
from builds.models import Consignment, Job, Piece, PieceState, State, User, Workshop

ONE, TOGETHER = "counted in", "counted in consignment"


@dataclass(frozen=True, slots=True)
class Signature:
    """Who signs, where the pieces are put, what was seen, and a photograph."""

    signed: str
    place: str = GOODS_IN
    words: str = ""
    photo: ContentFile[bytes] | None = None


@dataclass(slots=True)
class _Came:
    """What happened to one job, for the record."""

    job: Job
    before: dict[str, Any]
    after: dict[str, Any]
    rows_before: dict[str, Any]
    rows_after: dict[str, Any]
    made: list[str] = field(default_factory=list)
    told: dict[str, float] = field(default_factory=dict)


@no_photograph_without_the_act
@transaction.atomic
def take_in(*, by: User, ret: Return, signature: Signature) -> Job:
    """Count in what came back of one job; parts of it become steps of their own."""
    _check_signed(signature)
    came = _take_in(by, ret, signature)
    if came is None:
        raise Refused("Nothing was counted. Write how many are in the box.")
    record(
        by=by,
        verb=ONE,
        subject=came.job,
        job=came.job,
        before=came.before | {"piece_rows": came.rows_before},
        after=came.after
        | came.told
        | {
            "piece_rows": came.rows_after,
            "made": came.made,
            "signed": signature.signed,
        },
        words=signature.words,
        touched=[came.job, *made_and_waiting(came.made)],
    )
    return came.job


@no_photograph_without_the_act
@transaction.atomic
def take_in_consignment(
    *,
    by: User,
    consignment: Consignment,
    version: int,
    returns: Sequence[Return],
    signature: Signature,
) -> Consignment:
    """Count in what came back of a consignment: every job of it, at one stroke."""
    _check_signed(signature)
    if consignment.left is None:
        raise Refused(f"“{consignment}” has not left yet.")
    consignment = claim(consignment, version)
    came = [one for one in (_take_in(by, ret, signature) for ret in returns) if one]
    if not came:
        raise Refused("Nothing was counted. Write how many are in the box.")
    made = [key for one in came for key in one.made]
    record(
        by=by,
        verb=TOGETHER,
        subject=consignment,
        before={
            "consignment": consignment.key,
            "jobs": {one.job.key: one.before for one in came},
            "piece_rows": {k: v for one in came for k, v in one.rows_before.items()},
        },
        after={
            "consignment": consignment.key,
            "jobs": {one.job.key: one.after | one.told for one in came},
            "piece_rows": {k: v for one in came for k, v in one.rows_after.items()},
            "made": made,
            "signed": signature.signed,
        },
        words=signature.words,
        touched=[one.job for one in came] + made_and_waiting(made),
    )
    return consignment


def _check_signed(signature: Signature) -> None:
    if not signature.signed.strip():
        raise Refused("Write the name of whoever signs for it.")


def _take_in(by: User, ret: Return, signature: Signature) -> _Came | None:
    job = locked(ret.job)
    check_seen(job, ret.version)
    if job.kind not in AWAY or job.state not in STILL_OUT or job.sent is None:
        raise Refused(f"“{job}” is not with a vendor.")
    rows = listed(job, by, ret)
    if not ret.accepted and not any(one.any for one in ret.counts.values()):
        return None
    check_counts(rows, ret)
    rows_before = facts_of(rows.values())
    made = _share_out(by, job, rows, ret, signature)
    fields: dict[str, Any] = {}
    told: dict[str, float] = {}
    if ret.accepted or not job.piece_list.exists():
        made += _part_the_rest(job, ret)
        fields, told = _accepted(job)
    fields |= counts_of(job) | {"pieces_noted": _noted(job, ret)}
    before, after = change(job, fields)
    homes = [job.key, *made]
    rows_after = facts_of(Piece.objects.filter(job__key__in=homes))
    return _Came(job, plain(before), plain(after), rows_before, rows_after, made, told)


def _share_out(
    by: User, job: Job, rows: dict[str, Piece], ret: Return, signature: Signature
) -> list[str]:
    """Put the good ones on the shelf and give the others steps of their own."""
    by_state: dict[PieceState, list[Piece]] = {}
    held = one_line(signature.signed, "goods-in")
    for key, one in ret.counts.items():
        row = rows[key]
        for state, count in _shares(one):
            piece = part(row, count)
            if state == PieceState.MISSING and one.which:
                piece.name = one.which
            _put(by, piece, state, held, one, signature)
            by_state.setdefault(state, []).append(piece)
    made = []
    for state in (PieceState.REJECTED, PieceState.MISSING):
        if state in by_state:
            made.append(_step(job, by_state[state], state, ret))
    return made


def _shares(one: Counted) -> list[tuple[PieceState, int]]:
    shares = (
        (PieceState.BACK, one.good),
        (PieceState.REJECTED, one.rejected),
        (PieceState.MISSING, one.missing),
    )
    return [(state, count) for state, count in shares if count]


def _put(
    by: User,
    piece: Piece,
    state: PieceState,
    held: str,
    one: Counted,
    signature: Signature,
) -> None:
    note = " ".join(words for words in (one.why, signature.words) if words)
    if state == PieceState.MISSING:  # the last who had it still has to answer for it
        where = Where(piece.holder, piece.place, state, signature.signed, note)
    else:
        place = one_line(signature.place, GOODS_IN)
        where = Where(held, place, state, signature.signed, note)
    move([piece], where, by, signature.photo)


def _step(job: Job, pieces: list[Piece], state: PieceState, ret: Return) -> str:
    good = ret.waits if _any_good(job, ret) else None
    row = fresh_step(job, pieces, state, ret.again, good)
    Piece.objects.bulk_update(pieces, ["job"])
    return row.key


def _any_good(job: Job, ret: Return) -> bool:
    """Say whether anything good is there for others to go on with."""
    return any(one.good for one in ret.counts.values()) or job.pieces_back > 0


def _part_the_rest(job: Job, ret: Return) -> list[str]:
    """Give what is still to come a step of its own, so the good ones may go on."""
    if job.piece_list.exists() and not _any_good(job, ret):
        raise Refused(f"Nothing good of “{job}” is back, so nothing can go on with it.")
    rest = due(job.piece_list.all())
    return [_step(job, rest, PieceState.OUT, ret)] if rest else []


def _accepted(job: Job) -> tuple[dict[str, Any], dict[str, float]]:
    check_may_end(job)
    now = Workshop.current().clock()
    fields = {
        "state": State.DONE,
        "finished": now,
        "remaining": None,
        "started": job.started or now,
    }
    return fields, keep_return(job, now.date())


def _noted(job: Job, ret: Return) -> int | None:
    """Keep what their note said only while something of it is still out."""
    if not due(job.piece_list.all()):
        return None
    return ret.noted if ret.noted is not None else job.pieces_noted
