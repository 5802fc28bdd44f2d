"""The pieces' part of the engine's plan into rows.

A move that is in the file as it is in the table keeps its row, and with it the
photograph, which no plan file carries.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import takewhile

from builds.models import Job, Piece, PieceMove
from builds.planning.problem_pieces import OF_MOVES
from builds.planning.upsert import remove_others, upsert
from scheduling import pieces as records
from scheduling.plan import Plan


def pieces(plan: Plan, jobs: Mapping[str, Job]) -> None:
    """Write the named pieces of every job, each with its trail."""
    rows = upsert(
        Piece,
        (
            Piece(
                key=one.id,
                job=jobs[job.id],
                name=one.name,
                count=one.count,
                holder=one.holder,
                place=one.place,
                state=one.state,
            )
            for job in plan.jobs
            for one in job.piece_list
        ),
    )
    remove_others(Piece, rows)
    _trails(plan, rows)


def _trails(plan: Plan, rows: Mapping[str, Piece]) -> None:
    """Keep each trail as far as the file has it too, and write the rest of it."""
    known: dict[int, list[tuple[int, records.Move]]] = {}
    for pk, piece, *rest in PieceMove.objects.values_list("pk", "piece_id", *OF_MOVES):
        known.setdefault(piece, []).append((pk, records.Move(*rest)))
    gone: list[int] = []
    added: list[PieceMove] = []
    for one in (piece for job in plan.jobs for piece in job.piece_list):
        old = known.get(rows[one.id].pk, [])
        pairs = zip(old, one.trail, strict=False)
        alike = len(list(takewhile(lambda pair: pair[0][1] == pair[1], pairs)))
        gone += [pk for pk, _ in old[alike:]]
        added += [_move(rows[one.id], move) for move in one.trail[alike:]]
    # The plan is replaced, and its trails with it: the one place where moves go.
    PieceMove._base_manager.filter(pk__in=gone).delete()
    PieceMove.objects.bulk_create(added)


def _move(piece: Piece, one: records.Move) -> PieceMove:
    return PieceMove(
        piece=piece,
        at=one.at,
        holder=one.holder,
        place=one.place,
        state=one.state,
        count=one.count,
        signed=one.signed,
        note=one.note,
    )
