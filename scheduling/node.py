"""One node of the network: the work in it, its links, and the places it takes."""

from __future__ import annotations

from dataclasses import dataclass, field

from scheduling.place_units import units_taken
from scheduling.plan import LinkKind, PlaceUse
from scheduling.work import Work


@dataclass(frozen=True, slots=True)
class Arc:
    """Node `before` comes before the node that holds this arc."""

    before: int
    kind: LinkKind
    wait: float = 0.0
    wait_days: float = 0.0


@dataclass(slots=True)
class Node:
    """One job, or the jobs of one consignment.

    `work` lasts longest and sets the node's length; `ids` are those of the jobs. It is
    `begun` if under way or away, `gone` if left out; `by_slot` is the vendor in whose
    slots it would have to start, if that vendor has any; `uses` are the units it takes
    of each place.
    """

    works: tuple[Work, ...]
    release: float
    before: list[Arc] = field(default_factory=list)
    after: list[Arc] = field(default_factory=list)
    work: Work = field(init=False)
    ids: tuple[str, ...] = field(init=False)
    begun: bool = field(init=False)
    gone: bool = field(init=False)
    by_slot: str | None = field(init=False)
    uses: tuple[PlaceUse, ...] = field(init=False)

    def __post_init__(self) -> None:
        first = self.works[0]
        self.work = max(self.works, key=lambda one: one.length)
        self.ids = tuple([one.job.id for one in self.works])
        self.begun, self.gone = first.begun, first.job.state == "left out"
        waits = not self.begun and not self.gone and first.job.kind == "outside"
        self.by_slot = first.job.vendor if waits and first.job.slot else None
        units = units_taken(one.job for one in self.works)
        self.uses = tuple([PlaceUse(place, many) for place, many in units.items()])
