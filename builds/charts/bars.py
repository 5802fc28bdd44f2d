"""One job on the run-in: its bar, its words, the thin line of waiting before it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from builds.charts import wording
from builds.charts.labels import GAP, Label, place, shorten, wide
from builds.charts.scale import Scale

BAR = 14.0
NARROWEST = 4.0
FAR = datetime(9999, 1, 1)  # a job without a date comes last
# How each kind of job is drawn; the legend says the same in words.
STYLES = {
    "bench": "solid",
    "check": "solid",
    "outside": "open",
    "order": "open",
    "stand": "hatched",
    "decision": "dotted",
    "mark": "diamond",
}


@dataclass(frozen=True, slots=True)
class RunInJob:
    """A job as planned; `thread` is its place in the chain that sets the date."""

    id: str
    title: str
    url: str
    area: str
    kind: str
    condition: str
    start: datetime | None
    finish: datetime | None
    ready: datetime | None = None
    vendor: str = ""
    who: str = ""
    thread: int | None = None

    @property
    def dates(self) -> str:
        """Say from when to when."""
        return wording.day_range(self.start, self.finish)

    @property
    def begins(self) -> datetime:
        """Give when it starts, to be sorted by."""
        return self.start or FAR

    @property
    def name(self) -> str:
        """Say everything the bar shows, for those who cannot see it."""
        parts = [self.title, self.condition, self.dates]
        if self.vendor:
            parts.append(f"at {self.vendor}")
        if self.who:
            parts.append(self.who)
        if self.thread is not None:
            parts.append("on the chain that sets the date")
        return ", ".join(parts)


@dataclass(frozen=True, slots=True)
class Measured:
    """A bar along the axis, before it has a lane."""

    job: RunInJob
    x: float
    end: float
    wait_x: float | None
    inside: str
    label: Label

    @property
    def stretch(self) -> tuple[float, float]:
        """Give all the paper it takes, words and waiting included."""
        start = self.x if self.wait_x is None else self.wait_x
        if not self.label.text:
            return start, self.end
        return min(start, self.label.left), max(self.end, self.label.right)


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar with its lane."""

    measured: Measured
    y: float

    @property
    def job(self) -> RunInJob:
        """Give the job it stands for."""
        return self.measured.job

    @property
    def style(self) -> str:
        """Give how its kind is drawn."""
        return STYLES[self.job.kind]

    @property
    def width(self) -> float:
        """Give its length on the paper."""
        return round(self.measured.end - self.measured.x, 1)

    @property
    def middle(self) -> float:
        """Give the height of its middle."""
        return self.y + BAR / 2

    @property
    def baseline(self) -> float:
        """Give the line its words stand on."""
        return self.y + BAR - 3

    @property
    def inside_x(self) -> float:
        """Give where the words inside begin."""
        return round(self.measured.x + GAP / 2, 1)

    @property
    def diamond(self) -> str:
        """Give the outline of a moment."""
        x, y, half = self.measured.x, self.middle, BAR / 2
        return f"{x},{y - half} {x + half},{y} {x},{y + half} {x - half},{y}"


def measure(job: RunInJob, scale: Scale, post: float) -> Measured | None:
    """Lay a job along the axis; a job that has no dates has no bar."""
    if job.start is None or job.finish is None:
        return None
    x = scale.at(job.start)
    end = max(scale.at(job.finish), x + NARROWEST)
    if STYLES[job.kind] == "diamond":
        end = x + BAR / 2
    elif end > scale.right:
        x, end = scale.right - NARROWEST, scale.right
    wait_x = _wait(job, scale, x)
    title = job.title
    inside = job.vendor if wide(job.vendor) + GAP <= end - x else ""
    if job.vendor and not inside:
        title = f"{job.title}, {job.vendor}"
    if STYLES[job.kind] == "solid" and wide(shorten(title)) + GAP <= end - x:
        return Measured(
            job, x, end, wait_x, shorten(title), Label("", x, "start", x, x)
        )
    left = x - (BAR / 2 if STYLES[job.kind] == "diamond" else 0)
    limit = post - GAP if end < post else scale.right
    start = left if wait_x is None else wait_x
    label = place(title, start, end, edge=scale.left, limit=limit)
    return Measured(job, x, end, wait_x, inside, label)


def _wait(job: RunInJob, scale: Scale, x: float) -> float | None:
    if job.ready is None or job.start is None or job.ready >= job.start:
        return None
    ready = scale.at(job.ready)
    return ready if x - ready >= NARROWEST else None
