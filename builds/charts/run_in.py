"""The run-in: what is still to do, counted down to the post of the move-in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from builds.charts import wording
from builds.charts.areas import Area, lay_areas, open_jobs, thread_points
from builds.charts.axis import Band, Closed, Tick, closed_bands, ticks
from builds.charts.bars import Bar, RunInJob
from builds.charts.scale import Scale
from builds.charts.smear import Finish, Smear, smear

AREA_COLUMN = 148.0
AXIS = 58.0
FINISH_ROW = 64.0
MANY = 20  # above this the bars are one stop for the Tab key


@dataclass(frozen=True, slots=True)
class RunInChart:
    """Everything the picture and the lists under it need."""

    width: float
    height: float
    scale: Scale
    areas: tuple[Area, ...]
    ticks: tuple[Tick, ...]
    closed: tuple[Band, ...]
    post: float | None
    post_words: str
    thread: str
    thread_ends: tuple[tuple[float, float], ...]
    chain: tuple[RunInJob, ...]
    smear: Smear | None
    smear_y: float
    sentence: str
    now: datetime
    move_in: datetime | None

    @property
    def bars(self) -> tuple[Bar, ...]:
        """Give every bar in reading order."""
        return tuple(bar for area in self.areas for bar in area.bars)

    @property
    def many(self) -> bool:
        """Say whether the bars are too many to be a stop each for the Tab key."""
        return len(self.bars) > MANY

    @property
    def past(self) -> float:
        """Give how much paper lies past the post."""
        return round(self.scale.right - self.post, 1) if self.post else 0.0


def run_in(
    jobs: Sequence[RunInJob],
    *,
    now: datetime,
    move_in: datetime | None,
    finish: Finish | None,
    closed: Sequence[Closed] = (),
    show_name: str = "",
    width: float = 1200,
) -> RunInChart:
    """Lay the open jobs between today and the move-in."""
    scale = _scale(jobs, now, move_in, finish, width)
    post = scale.at(move_in) if move_in else None
    areas = lay_areas(jobs, scale, post, AXIS)
    bottom = areas[-1].y + areas[-1].height if areas else AXIS
    smear_y = bottom + FINISH_ROW / 2
    chain = _chain(jobs)
    bars = {bar.job.id: bar for area in areas for bar in area.bars}
    points = thread_points(chain, bars, smear_y)
    return RunInChart(
        width=width,
        height=round(bottom + FINISH_ROW, 1),
        scale=scale,
        areas=tuple(areas),
        ticks=tuple(ticks(scale, move_in, closed)),
        closed=tuple(closed_bands(scale, closed)),
        post=post,
        post_words=_post_words(move_in, show_name),
        thread=" ".join(f"{x:g},{y:g}" for x, y in points),
        thread_ends=tuple(points[:1]),
        chain=chain,
        smear=smear(finish, scale) if finish else None,
        smear_y=smear_y,
        sentence=_sentence(jobs, chain, finish),
        now=now,
        move_in=move_in,
    )


def _scale(
    jobs: Sequence[RunInJob],
    now: datetime,
    move_in: datetime | None,
    finish: Finish | None,
    width: float,
) -> Scale:
    ends = [job.finish for job in open_jobs(jobs) if job.finish]
    ends += [move_in] if move_in else []
    ends += [finish.p90] if finish else []
    last = max([*ends, now + timedelta(days=7)])
    return Scale(now, last + (last - now) * 0.01, AREA_COLUMN, width - 12)


def _chain(jobs: Sequence[RunInJob]) -> tuple[RunInJob, ...]:
    on_it = [job for job in open_jobs(jobs) if job.thread is not None]
    return tuple(sorted(on_it, key=lambda job: job.thread or 0))


def _post_words(move_in: datetime | None, show_name: str) -> str:
    if move_in is None:
        return ""
    return f"{show_name or 'Move-in'}, {wording.moment(move_in)}"


def _sentence(
    jobs: Sequence[RunInJob], chain: Sequence[RunInJob], finish: Finish | None
) -> str:
    done = sum(job.condition == "done" for job in jobs)
    text = f"{wording.counted(len(open_jobs(jobs)), 'job,jobs')} to go, {done} done."
    if chain:
        steps = wording.counted(len(chain), "step,steps")
        text += f" The chain that sets the date has {steps}, from {chain[0].title}"
        text += f" to {chain[-1].title}." if len(chain) > 1 else "."
    if finish:
        text += (
            f" Finished with an even chance by {wording.day(finish.p50)},"
            f" with 80 in 100 by {wording.day(finish.p80)}."
        )
    return text
