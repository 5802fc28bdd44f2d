"""One piece: who has it, where, and the way it came; and the list of a job's."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.urls import reverse

from builds.models import Job, Piece, PieceMove, PieceState, State
from builds.selectors.consignment import PieceLine, piece_lines
from builds.selectors.pieces_out import PIECE_WORDS


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a trail: from whom to whom."""

    at: datetime
    giver: str
    holder: str
    place: str
    word: str
    count: int
    signed: str
    by: str
    note: str
    photo: str


@dataclass(frozen=True, slots=True)
class PiecePage:
    """A piece with its trail, newest first."""

    row: Piece
    job: Job
    word: str
    trail: tuple[Step, ...]
    may_strike: bool


@dataclass(frozen=True, slots=True)
class JobPieces:
    """The list of a job's pieces."""

    job: Job
    lines: tuple[PieceLine, ...]
    may_add: bool


def piece_page(piece: Piece) -> PiecePage:
    """Give a piece's page."""
    job = Job.objects.select_related("build", "vendor").get(pk=piece.job_id)
    moves = list(piece.trail.select_related("by"))
    givers = ["", *(one.holder for one in moves)]
    steps = [
        _step(piece, one, giver) for one, giver in zip(moves, givers, strict=False)
    ]
    return PiecePage(
        row=piece,
        job=job,
        word=PIECE_WORDS[PieceState(piece.state)],
        trail=tuple(reversed(steps)),
        may_strike=len(moves) <= 1 and piece.state == PieceState.HERE,
    )


def job_pieces(job: Job) -> JobPieces:
    """Give the list of a job's pieces."""
    job = Job.objects.select_related("build", "vendor").get(pk=job.pk)
    lines = piece_lines(list(job.piece_list.all()))
    return JobPieces(job, lines, job.state in (State.OPEN, State.UNDER_WAY))


def photo_of(piece: Piece, number: int) -> PieceMove | None:
    """Give the move whose photograph is asked for, if it has one."""
    return piece.trail.filter(pk=number).exclude(photo="").first()


def _step(piece: Piece, move: PieceMove, giver: str) -> Step:
    photo = reverse("piece_photo", args=[piece.key, move.pk]) if move.photo else ""
    return Step(
        at=move.at,
        giver=giver if giver != move.holder else "",
        holder=move.holder,
        place=move.place,
        word=PIECE_WORDS[PieceState(move.state)],
        count=move.count,
        signed=move.signed,
        by=str(move.by or ""),
        note=move.note,
        photo=photo,
    )
