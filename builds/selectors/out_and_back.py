"""The page Out and back: every thing that is out, what goes together, what is ready."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from builds.models import Consignment, Piece, PieceState, Workshop
from builds.selectors.pieces_out import OutLine, things_out
from builds.selectors.ready_to_go import (
    SameWay,
    ToGo,
    being_made_up,
    going_the_same_way,
    to_go_of,
)


@dataclass(frozen=True, slots=True)
class Batch:
    """A consignment being made up."""

    key: str
    name: str
    vendor: str
    leaves: datetime | None
    lines: tuple[ToGo, ...]
    pieces: int

    @property
    def ready(self) -> bool:
        """Say whether all of it could leave."""
        return all(one.ready for one in self.lines)


@dataclass(frozen=True, slots=True)
class OutAndBack:
    """The whole page."""

    today: date
    out: tuple[OutLine, ...]
    batches: tuple[Batch, ...]
    ready: tuple[SameWay, ...]
    missing: tuple[Piece, ...]

    @property
    def pieces(self) -> int:
        """Give how many pieces are out."""
        return sum(one.out or 0 for one in self.out)

    @property
    def mismatches(self) -> int:
        """Give how many counts do not agree."""
        return sum(bool(one.mismatch) for one in self.out)


def out_page() -> OutAndBack:
    """Give the page Out and back."""
    today = Workshop.current().clock().date()
    missing = Piece.objects.filter(state=PieceState.MISSING)
    return OutAndBack(
        today=today,
        out=things_out(today),
        batches=_batches(),
        ready=going_the_same_way(),
        missing=tuple(missing.select_related("job__build")),
    )


def _batches() -> tuple[Batch, ...]:
    rows = list(being_made_up())
    jobs = {load.job_id: load.job for row in rows for load in row.loads.all()}
    judged = to_go_of(jobs)  # at one stroke: it looks at every link of the plan
    return tuple(_batch(row, judged) for row in rows)


def _batch(row: Consignment, judged: Mapping[int, ToGo]) -> Batch:
    jobs = {load.job_id: load.job for load in row.loads.all()}
    return Batch(
        key=row.key,
        name=str(row),
        vendor=str(row.vendor),
        leaves=row.leaves,
        lines=tuple(judged[pk] for pk in jobs),
        pieces=sum(one.pieces or 0 for one in jobs.values()),
    )
