"""Do things given p in 100 happen p times in 100? Reliability table and Brier score.

Brier 1950 (Monthly Weather Review 78:1-3): the mean of (p - happened)^2. Murphy 1973
(Journal of Applied Meteorology 12:595-600): it is reliability - resolution +
uncertainty, exactly, where equal forecasts are taken together. Both from memory.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Event:
    """One forecast and what came of it. `life` is the workshop it belongs to."""

    life: int
    chance: float
    happened: bool
    kind: str = ""
    morning: int = 0


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the table, in points of a hundred; `error` is a standard error."""

    count: int
    lives: int
    told: float
    happened: float
    error: float

    @property
    def off(self) -> float:
        """Return how far what happened is above what was told."""
        return self.happened - self.told


def brier(events: Sequence[Event]) -> float:
    """Return the mean squared distance of forecast and outcome."""
    return sum((one.chance - one.happened) ** 2 for one in events) / len(events)


def murphy(events: Sequence[Event]) -> tuple[float, float, float]:
    """Return (reliability, resolution, uncertainty) over equal forecasts."""
    groups: dict[float, list[bool]] = defaultdict(list)
    for one in events:
        groups[one.chance].append(one.happened)
    count = len(events)
    base = sum(one.happened for one in events) / count
    reliability = resolution = 0.0
    for chance, outcomes in groups.items():
        share = sum(outcomes) / len(outcomes)
        reliability += len(outcomes) * (chance - share) ** 2
        resolution += len(outcomes) * (share - base) ** 2
    return reliability / count, resolution / count, base * (1.0 - base)


def row_of(events: Sequence[Event]) -> Row:
    """Return one line; events of one life move together: they count as one."""
    by_life: dict[int, float] = defaultdict(float)
    for one in events:
        by_life[one.life] += one.happened - one.chance
    count = len(events)
    told = sum(one.chance for one in events) / count
    happened = sum(one.happened for one in events) / count
    mean = (happened - told) * count / len(by_life)
    error = math.sqrt(sum((one - mean) ** 2 for one in by_life.values())) / count
    return Row(count, len(by_life), 100 * told, 100 * happened, 100 * error)


def table(events: Sequence[Event]) -> list[Row]:
    """Return a line for every tenth: told 0 to 10 in 100, 10 to 20, and so on."""
    tenths: list[list[Event]] = [[] for _ in range(10)]
    for one in events:
        tenths[min(int(one.chance * 10.0), 9)].append(one)
    return [row_of(one) for one in tenths if one]
