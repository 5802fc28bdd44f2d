"""The knock-on: a job, and to the right of it everything it holds up."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

import networkx as nx

from builds.charts import wording
from builds.charts.labels import shorten

COLUMN = 184.0
BOX = 148.0
LANE = 54.0
BOX_HEIGHT = 38.0
TOP = 16.0
LETTERS = 19
FAR = datetime(9999, 1, 1)  # a job without a date comes last


@dataclass(frozen=True, slots=True)
class HeldJob:
    """A job, when it is planned, and which of the others it waits for."""

    id: str
    title: str
    url: str
    condition: str
    start: datetime | None
    finish: datetime | None
    after: tuple[str, ...] = ()
    thread: int | None = None


@dataclass(frozen=True, slots=True)
class Node:
    """A job with its place: column by generation, lane by what it hangs from."""

    job: HeldJob
    column: int
    lane: int
    waits_for: tuple[str, ...]

    @property
    def x(self) -> float:
        """Give its left edge."""
        return 2 + self.column * COLUMN

    @property
    def y(self) -> float:
        """Give its top edge."""
        return TOP + self.lane * LANE

    @property
    def middle(self) -> float:
        """Give the height of its middle."""
        return self.y + BOX_HEIGHT / 2

    @property
    def right(self) -> float:
        """Give its right edge."""
        return self.x + BOX

    @property
    def text(self) -> str:
        """Give the title cut to the box."""
        return shorten(self.job.title, LETTERS)

    @property
    def dates(self) -> str:
        """Say from when to when."""
        return wording.short_range(self.job.start, self.job.finish)

    @property
    def name(self) -> str:
        """Say everything the box and its lines show."""
        after = f", after {' and '.join(self.waits_for)}" if self.waits_for else ""
        return f"{self.job.title}, {self.job.condition}, {self.dates}{after}"


@dataclass(frozen=True, slots=True)
class Wire:
    """The line from a job to one that waits for it."""

    path: str
    heavy: bool


@dataclass(frozen=True, slots=True)
class KnockOn:
    """The picture, and the same as a list in order of time."""

    picked: HeldJob
    nodes: tuple[Node, ...]
    wires: tuple[Wire, ...]
    width: float
    height: float
    sentence: str

    @property
    def listed(self) -> tuple[Node, ...]:
        """Give what is held up, in order of time."""
        return tuple(sorted(self.nodes[1:], key=lambda node: _when(node.job)))

    @property
    def many(self) -> bool:
        """Say whether the boxes are too many to be a stop each for the Tab key."""
        return len(self.nodes) > 20


def knock_on(picked: HeldJob, held: Sequence[HeldJob]) -> KnockOn:
    """Lay out what a job holds up; links to jobs that are not held are left aside."""
    jobs = {job.id: job for job in (picked, *held)}
    graph = _links(picked, jobs)
    nodes = _nodes(picked, jobs, graph)
    columns = max(node.column for node in nodes.values()) + 1
    lanes = max(node.lane for node in nodes.values()) + 1
    count = wording.counted(len(held), "job,jobs")
    return KnockOn(
        picked=picked,
        nodes=tuple(nodes.values()),
        wires=tuple(_wire(nodes[a], nodes[b]) for a, b in graph.edges),
        width=4 + (columns - 1) * COLUMN + BOX,
        height=TOP + lanes * LANE,
        sentence=f"{picked.title} holds up {count}."
        if held
        else f"{picked.title} holds up nothing.",
    )


def _when(job: HeldJob) -> tuple[datetime, str]:
    return job.start or FAR, job.id


def _links(picked: HeldJob, jobs: Mapping[str, HeldJob]) -> nx.DiGraph[str]:
    """Keep each link that no longer way round already tells."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_nodes_from(jobs)
    graph.add_edges_from(
        (before, job.id)
        for job in jobs.values()
        if job.id != picked.id
        for before in job.after
        if before in jobs
    )
    # Held through jobs that are not in the picture: it hangs from the picked one.
    loose = [key for key in jobs if key != picked.id and not graph.in_degree(key)]
    graph.add_edges_from((picked.id, key) for key in loose)
    reduced: nx.DiGraph[str] = nx.transitive_reduction(graph)
    return reduced


def _nodes(
    picked: HeldJob, jobs: Mapping[str, HeldJob], graph: nx.DiGraph[str]
) -> dict[str, Node]:
    generations = nx.topological_generations(graph)
    column = {key: place for place, keys in enumerate(generations) for key in keys}
    taken: dict[int, int] = {}  # lane -> last column used in it
    nodes: dict[str, Node] = {}
    order = sorted(jobs.values(), key=lambda job: (column[job.id], *_when(job)))
    order.sort(key=lambda job: job.id != picked.id)  # the picked job reads first
    for job in order:
        before = sorted(graph.predecessors(job.id), key=lambda key: _when(jobs[key]))
        lane = _lane([nodes[key].lane for key in before], column[job.id], taken)
        taken[lane] = column[job.id]
        titles = tuple(jobs[key].title for key in before)
        nodes[job.id] = Node(job, column[job.id], lane, titles)
    return nodes


def _lane(wanted: list[int], column: int, taken: Mapping[int, int]) -> int:
    """Go on in the lane of a job it waits for, else in the first lane that is free."""
    free = [lane for lane in (*wanted, *taken) if taken[lane] < column]
    return free[0] if free else len(taken)


def _wire(before: Node, after: Node) -> Wire:
    """Lead a line out to the gutter, along between the lanes, and in from the left."""
    heavy = before.job.thread is not None and after.job.thread == before.job.thread + 1
    out, gutter = before.right + 12, after.x - 14
    start, end = f"M{before.right:g} {before.middle:g}", f"H{after.x - 4:g}"
    if before.lane == after.lane and after.column == before.column + 1:
        return Wire(f"{start}{end}", heavy)
    if after.column == before.column + 1:
        return Wire(f"{start}H{gutter:g}V{after.middle:g}{end}", heavy)
    between = after.y - (LANE - BOX_HEIGHT) / 2
    path = f"{start}H{out:g}V{between:g}H{gutter:g}V{after.middle:g}{end}"
    return Wire(path, heavy)
