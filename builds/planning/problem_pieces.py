"""The pieces' part of rows into the engine's plan."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection

from builds.models import Piece, PieceMove
from builds.planning.rows import by_owner, of_jobs
from scheduling import pieces as records

OF_PIECES = ("holder", "place", "name", "count", "state")
OF_MOVES = ("at", "holder", "place", "state", "count", "signed", "note")


def pieces(
    *, trails: bool, only: Collection[int] | None = None
) -> dict[int, list[records.Piece]]:
    """Give the named pieces of each job by the job's number, trails where asked."""
    gone = of_jobs(PieceMove.objects.all(), only, "piece__job_id")
    moves = gone.values_list("piece_id", *OF_MOVES) if trails else ()
    trail = by_owner(moves, records.Move)
    found: dict[int, list[records.Piece]] = defaultdict(list)
    rows = of_jobs(Piece.objects.all(), only).values("pk", "job_id", "key", *OF_PIECES)
    for row in rows:
        named = {name: row[name] for name in OF_PIECES}
        piece = records.Piece(id=row["key"], **named, trail=tuple(trail[row["pk"]]))
        found[row["job_id"]].append(piece)
    return found
