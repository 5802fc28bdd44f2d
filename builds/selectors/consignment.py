"""One consignment: what travels in it, how it went, and what came of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from builds.models import Consignment, Event, Job, Piece, PieceState, State
from builds.selectors.came_of_it import CameOfIt, came_of_it
from builds.selectors.pieces_out import PIECE_WORDS, say_mismatch
from builds.selectors.ready_to_go import ToGo, could_join, to_go_of

VERBS = {
    "created consignment": "put it together",
    "changed consignment": "changed what travels in it",
    "sent consignment": "saw it leave",
    "counted in consignment": "counted in what came back",
    "took back": "took the last act back",
}
GOES_BACK = ("sent consignment", "counted in consignment")


@dataclass(frozen=True, slots=True)
class PieceLine:
    """One line of the list."""

    key: str
    name: str
    count: int
    holder: str
    place: str
    word: str


@dataclass(frozen=True, slots=True)
class Load:
    """One job of the consignment with its pieces."""

    to_go: ToGo
    pieces: tuple[PieceLine, ...]
    mismatch: str

    @property
    def job(self) -> Job:
        """Give the job."""
        return self.to_go.job

    @property
    def done(self) -> bool:
        """Say whether it is back and accepted."""
        return self.job.state == State.DONE

    @property
    def still_out(self) -> bool:
        """Say whether something of it is still to be counted in."""
        return self.job.state != State.DONE and self.job.sent is not None


@dataclass(frozen=True, slots=True)
class Act:
    """Who did what to it, and in what words."""

    at: datetime
    by: str
    verb: str
    signed: str
    words: str


@dataclass(frozen=True, slots=True)
class ConsignmentPage:
    """The whole page."""

    row: Consignment
    loads: tuple[Load, ...]
    others: tuple[ToGo, ...]
    acts: tuple[Act, ...]
    undo: int | None
    came: CameOfIt | None

    @property
    def pieces(self) -> int:
        """Give how many pieces travel in it."""
        return sum(one.job.pieces or 0 for one in self.loads)

    @property
    def cars(self) -> int:
        """Give how many cars they are of."""
        return len({one.job.build_id for one in self.loads})

    @property
    def out(self) -> bool:
        """Say whether something of it can be counted in."""
        return self.row.left is not None and any(one.still_out for one in self.loads)

    @property
    def ready(self) -> bool:
        """Say whether all of it could leave."""
        return all(one.to_go.ready for one in self.loads)


def consignment_page(consignment: Consignment) -> ConsignmentPage:
    """Give a consignment with everything that travels in it."""
    loads = loads_of(consignment)
    here = consignment.left is None
    events = _acts_on(consignment)
    standing = [one for one in events if one.undoes_id is None and not _undone(one)]
    last = standing[0] if standing else None
    back = last is not None and last.verb in GOES_BACK
    inside = {one.job.pk for one in loads}
    others = could_join(consignment.vendor_id, consignment) if here else ()
    return ConsignmentPage(
        row=consignment,
        loads=loads,
        others=tuple(one for one in others if one.job.pk not in inside),
        acts=tuple(_act(one) for one in events),
        undo=last.pk if last and back else None,
        came=came_of_it(last) if last and last.verb == GOES_BACK[1] else None,
    )


def loads_of(consignment: Consignment) -> tuple[Load, ...]:
    """Give the jobs of a consignment, each with its list."""
    rows = consignment.loads.select_related("job__build", "job__vendor")
    jobs = {load.job_id: load.job for load in rows}
    judged = to_go_of(jobs)
    pieces: dict[int, list[Piece]] = {}
    for piece in Piece.objects.filter(job__in=jobs):
        pieces.setdefault(piece.job_id, []).append(piece)
    return tuple(
        Load(judged[pk], piece_lines(pieces.get(pk, ())), say_mismatch(job))
        for pk, job in jobs.items()
    )


def piece_lines(pieces: Sequence[Piece]) -> tuple[PieceLine, ...]:
    """Give the lines of a job's list; pieces without a name go by the job's."""
    return tuple(
        PieceLine(
            key=one.key,
            name=one.name or "not named singly",
            count=one.count,
            holder=one.holder,
            place=one.place,
            word=PIECE_WORDS[PieceState(one.state)],
        )
        for one in pieces
    )


def _acts_on(consignment: Consignment) -> list[Event]:
    rows = Event.objects.filter(after__consignment=consignment.key)
    return list(rows.select_related("by", "undone"))


def _undone(event: Event) -> bool:
    return hasattr(event, "undone")


def _act(event: Event) -> Act:
    return Act(
        at=event.at,
        by=str(event.by or "The workshop"),
        verb=VERBS.get(event.verb, event.verb),
        signed=str(event.after.get("signed", "")),
        words=event.words,
    )
