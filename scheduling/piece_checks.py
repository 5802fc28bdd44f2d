"""Whether the named pieces of a job add up to its counts."""

from __future__ import annotations

from collections.abc import Iterator

from scheduling.errors import Fault
from scheduling.plan import Job, Plan
from scheduling.whereabouts import Spot, quoted, spots


def piece_faults(plan: Plan) -> Iterator[Fault]:
    """Yield what is wrong with the pieces that jobs name."""
    known: dict[str, str] = {}
    for spot, job in spots("jobs", plan.jobs):
        for number, piece in enumerate(job.piece_list):
            where = spot.at(f".piece_list[{number}]")
            if piece.id in known:
                yield Fault(
                    where,
                    f"has the same id as {known[piece.id]}: {quoted(piece.id)}",
                    "A piece is in one place only. Give one of the two another id.",
                )
            known.setdefault(piece.id, where)
        if job.piece_list:
            yield from _sums(spot, job)


def _sums(spot: Spot, job: Job) -> Iterator[Fault]:
    named = sum(one.count for one in job.piece_list)
    back = sum(one.count for one in job.piece_list if one.state == "back")
    if named != job.pieces:
        said = "nothing" if job.pieces is None else str(job.pieces)
        yield Fault(
            spot.at(".pieces"),
            f"is {said}, but the pieces named add up to {named}",
            "Count again, then correct the number or the list.",
        )
    if back != job.pieces_back:
        yield Fault(
            spot.at(".pieces_back"),
            f"is {job.pieces_back}, but {back} of the pieces named are back",
            "Count again, then correct the number or the list.",
        )
