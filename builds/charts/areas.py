"""The bands of the run-in: one for each part of the car."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from builds.charts.bars import BAR, NARROWEST, STYLES, Bar, Measured, RunInJob, measure
from builds.charts.conditions import OFF_THE_CHART
from builds.charts.lanes import pack
from builds.charts.scale import Scale
from builds.charts.smear import STRIP_WIDTH

LANE = 26.0
BAND_PAD = 8.0
SHORTEST_BAND = 42.0
THREAD_BELOW = 2.5
WHOLE_CAR = "whole car"


@dataclass(frozen=True, slots=True)
class Row:
    """One job in the lists, with a small bar on a line from today to the end."""

    job: RunInJob
    x: float
    width: float
    post: float | None

    @property
    def style(self) -> str:
        """Give how its kind is drawn."""
        return STYLES[self.job.kind]


@dataclass(frozen=True, slots=True)
class Area:
    """The jobs of one part of the car, and where they lie."""

    name: str
    y: float
    height: float
    bars: tuple[Bar, ...]
    rows: tuple[Row, ...]
    done: int

    @property
    def to_go(self) -> int:
        """Give how many of its jobs are still to do."""
        return len(self.rows)


def open_jobs(jobs: Sequence[RunInJob]) -> list[RunInJob]:
    """Give the jobs that are still to do, the first to start first."""
    held = [job for job in jobs if job.condition not in OFF_THE_CHART]
    return sorted(held, key=lambda job: (job.begins, job.id))


def lay_areas(
    jobs: Sequence[RunInJob], scale: Scale, post: float | None, top: float
) -> list[Area]:
    """Lay the open jobs in bands, the area that starts first on top."""
    by_area: dict[str, list[RunInJob]] = {}
    for job in open_jobs(jobs):
        by_area.setdefault(job.area or WHOLE_CAR, []).append(job)
    done = Counter(job.area or WHOLE_CAR for job in jobs if job.condition == "done")
    areas, y = [], top
    for name, held in by_area.items():
        measured = [measure(job, scale, post or scale.right) for job in held]
        bars, height = _band([one for one in measured if one], y)
        rows = tuple(_row(job, scale, post) for job in held)
        areas.append(Area(name, y, height, bars, rows, done[name]))
        y += height
    return areas


def _band(measured: list[Measured], y: float) -> tuple[tuple[Bar, ...], float]:
    given = pack([one.stretch for one in measured], gap=8)
    bars = tuple(
        Bar(one, y + BAND_PAD + lane * LANE)
        for one, lane in zip(measured, given, strict=True)
    )
    lanes = max(given, default=0) + 1
    return bars, max(SHORTEST_BAND, BAND_PAD + lanes * LANE)


def _row(job: RunInJob, scale: Scale, post: float | None) -> Row:
    strip = Scale(scale.start, scale.end, 0, STRIP_WIDTH)
    share = STRIP_WIDTH / (scale.right - scale.left)
    small_post = round((post - scale.left) * share, 1) if post else None
    if job.start is None or job.finish is None:
        return Row(job, 0, 0, small_post)
    x = min(strip.at(job.start), STRIP_WIDTH - NARROWEST)
    width = max(strip.at(job.finish) - x, NARROWEST)
    return Row(job, x, round(width, 1), small_post)


def thread_points(
    chain: Sequence[RunInJob], bars: dict[str, Bar], end_y: float
) -> list[tuple[float, float]]:
    """Run one line under the bars of the chain, in order, and down to the finish."""
    run = [bars[job.id] for job in chain if job.id in bars]
    points: list[tuple[float, float]] = []
    for place, bar in enumerate(run):
        y = round(bar.y + BAR + THREAD_BELOW, 1)
        after = run[place + 1] if place + 1 < len(run) else None
        points.append((bar.measured.x, y))
        points.append((after.measured.x if after else bar.measured.end, y))
    if run:
        points.append((run[-1].measured.end, end_y))
    return points
