"""The axis that counts down: working weeks to go, and the days nobody works."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from builds.charts.scale import Scale, monday

WEEK = timedelta(weeks=1)
BETWEEN_TICKS = 58.0
NARROWEST_BAND = 2.5
AFTER_TODAY = 52.0  # room for the word at the start of the axis


@dataclass(frozen=True, slots=True)
class Closed:
    """A stretch in which nobody works."""

    start: datetime
    finish: datetime


@dataclass(frozen=True, slots=True)
class Tick:
    """One Monday: where it lies, the working weeks to go, its date."""

    x: float
    weeks: int | None
    date: str


@dataclass(frozen=True, slots=True)
class Band:
    """A stretch of paper."""

    x: float
    width: float


def ticks(
    scale: Scale, move_in: datetime | None, closed: Sequence[Closed]
) -> list[Tick]:
    """Give the Mondays that have room for their words, counted back from the post."""
    first = monday(scale.start) + WEEK
    end = min(move_in, scale.end) if move_in else scale.end
    mondays = []
    while first < end:
        mondays.append(first)
        first += WEEK
    step = _step(scale)
    drawn = []
    # Counted from the post, so that the last weeks are never the ones left out.
    for place, day in enumerate(reversed(mondays), start=1):
        if place % step == 0 or step == 1:
            weeks = weeks_to_go(day, move_in, closed) if move_in else None
            drawn.append(Tick(scale.at(day), weeks, f"{day.day} {day:%b}"))
    clear_of = scale.at(move_in) if move_in else scale.right + BETWEEN_TICKS
    return [
        tick
        for tick in reversed(drawn)
        if scale.left + AFTER_TODAY <= tick.x <= clear_of - BETWEEN_TICKS / 2
    ]


def _step(scale: Scale) -> int:
    week = (scale.right - scale.left) * (WEEK / (scale.end - scale.start))
    return max(1, -int(-BETWEEN_TICKS // week))


def weeks_to_go(start: datetime, move_in: datetime, closed: Sequence[Closed]) -> int:
    """Count the weeks, from this Monday to the move-in, in which anybody works."""
    count, day = 0, monday(start)
    while day < move_in:
        if _anybody_works(day, min(day + WEEK, move_in), closed):
            count += 1
        day += WEEK
    return count


def _anybody_works(start: datetime, end: datetime, closed: Sequence[Closed]) -> bool:
    open_from = start
    for span in sorted(closed, key=lambda one: one.start):
        if span.start > open_from:
            break
        open_from = max(open_from, span.finish)
    return open_from < end


def closed_bands(scale: Scale, closed: Sequence[Closed]) -> list[Band]:
    """Give the stretches nobody works that are wide enough to be seen."""
    bands = []
    for span in closed:
        if span.finish <= scale.start or span.start >= scale.end:
            continue
        x, end = scale.at(span.start), scale.at(span.finish)
        if end - x >= NARROWEST_BAND:
            bands.append(Band(x, round(end - x, 1)))
    return bands
