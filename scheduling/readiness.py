"""Honest odds: Monte Carlo over durations with resource limits inside every sample.

The order of hands, places and slots is the shared plan's; see `flow`. Criticality
index: Van Slyke 1963 (from memory).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from scheduling.goals import Due, Goal
from scheduling.network import Network
from scheduling.sampling.draws import BLOCK, Drawer
from scheduling.sampling.kernel import Kernel
from scheduling.sampling.learned import Learned
from scheduling.sampling.times import Times
from scheduling.shared_plan import SharedPlan
from scheduling.threads import THREADS, side_by_side

Floats = NDArray[np.float64]
Key = tuple[str | None, str]

POINTS = (10, 50, 80, 90)
FEW = 2_500  # samples behind the single job's dates


@dataclass(slots=True)
class Odds:
    """What the samples say.

    `finish[goal]` holds one finish per sample (quarters); `criticality` one share per
    node; `points` the 10, 50, 80 and 90 % finishes of every node; `first` and `kernel`
    are the first block, kept for comparisons on the same numbers.
    """

    finish: dict[Key, Floats]
    criticality: Floats
    points: Floats
    kernel: Kernel
    first: Times

    def chance(self, key: Key, moment: float) -> float:
        """Return the share of samples in which a goal is reached by a moment."""
        return float(np.mean(self.finish[key] <= moment + 1e-6))

    def percentile(self, key: Key, percent: float) -> float:
        """Return the quarter by which a goal is reached in `percent` of samples."""
        return float(percentiles_of(self.finish[key], (percent,))[0])

    def percentiles(self, key: Key) -> dict[int, float]:
        """Return the quarters by which a goal is reached in `POINTS` percent."""
        found: list[float] = percentiles_of(self.finish[key], POINTS).tolist()
        return dict(zip(POINTS, found, strict=True))


def standard_error(chance: float, samples: int) -> float:
    """Return sqrt(p (1 - p) / n)."""
    return float(np.sqrt(chance * (1.0 - chance) / max(samples, 1)))


def odds_of(
    network: Network,
    shared: SharedPlan,
    kernel: Kernel,
    goals: Mapping[Key, Goal],
    targets: Sequence[Key],
    *,
    samples: int,
    seed: int,
) -> Odds:
    """Return the odds of every goal.

    Parameters
    ----------
    kernel : Kernel
        Carries the resource order; without one, nobody waits for anybody.
    targets : keys of goals
        The goals whose driving chains count for criticality.
    samples : int
        How many; worked through in blocks of `draws.BLOCK`.

    Notes
    -----
    O(samples x (nodes + arcs)). Same seed, same numbers, whatever else runs.
    """
    finish: dict[Key, list[Floats]] = {key: [] for key in goals}
    hits = np.zeros(len(network.nodes))
    driven = [goals[key] for key in targets]
    first: Times | None = None
    learned: Learned | None = None
    for block, size in enumerate(_blocks(samples)):
        drawer = Drawer(network, shared, seed, block, size, learned)
        learned = drawer.learned
        times = kernel.times_for(drawer.all(kernel.threads, kernel.plain))
        hits += kernel.run(times, driven)
        for key, goal in goals.items():
            finish[key].append(reached(network, times, goal))
        first = first or times
    assert first is not None  # at least one sample is asked for
    return Odds(
        {key: np.concatenate(rows) for key, rows in finish.items()},
        hits / samples,
        points_of(first),
        kernel,
        first,
    )


def points_of(times: Times) -> Floats:
    """Return the 10, 50, 80 and 90 % finishes of every node, points x nodes."""
    if not len(times.finish):
        return np.empty((len(POINTS), 0))
    few = times.finish[:, :FEW]
    parts = np.array_split(few, min(THREADS, len(few)))
    calls = [partial(percentiles_of, part, POINTS) for part in parts]
    return np.hstack(side_by_side(calls))


def percentiles_of(rows: Floats, percents: Sequence[float]) -> Floats:
    """Return what `numpy.percentile` gives along the last axis, percents first.

    The same numbers in a fraction of the time: most of numpy's goes into asking what
    kind of array it has.
    """
    found = np.sort(rows, axis=-1)
    last = found.shape[-1] - 1
    along = last * (np.asarray(percents) / 100)
    low = along.astype(np.intp)
    part = along - low
    below, above = found[..., low], found[..., np.minimum(low + 1, last)]
    gap = above - below
    between = np.where(part < 0.5, below + gap * part, above - gap * (1 - part))
    return np.asarray(np.moveaxis(between, -1, 0), dtype=np.float64)


def odds_alone(
    network: Network, odds: Odds, kernel: Kernel, goals: Mapping[Key, Goal]
) -> dict[Key, Floats]:
    """Return finishes of every goal if nobody waited for anybody: same draws."""
    times = kernel.times_for(odds.first.amounts)
    kernel.run(times)
    return {key: reached(network, times, goal) for key, goal in goals.items()}


def _blocks(samples: int) -> list[int]:
    whole, rest = divmod(samples, BLOCK)
    return [BLOCK] * whole + ([rest] if rest else [])


def reached(network: Network, times: Times, goal: Goal) -> Floats:
    """Return when a goal is reached in each sample (now, where nothing is left)."""
    if not goal.ends:
        return np.full(times.finish.shape[1], network.now)
    rows = [times.finish[number] for number in goal.ends]
    return np.asarray(np.maximum.reduce(rows), dtype=np.float64)


def finish_samples(durations: Floats, preds: Sequence[Sequence[int]]) -> Floats:
    """Return early finishes of a plain network for given durations.

    Parameters
    ----------
    durations : array, jobs x samples
        Any unit; jobs in an order in which predecessors come first.
    preds : per job, the row numbers it waits for

    Returns
    -------
    array, jobs x samples
        In the same unit, from zero.

    Examples
    --------
    >>> import numpy as np
    >>> finish_samples(np.array([[2.0], [3.0], [1.0]]), [[], [], [0, 1]])[2]
    array([4.])
    """
    finish = np.empty_like(durations)
    for number, before in enumerate(preds):
        start = np.zeros(durations.shape[1])
        for one in before:
            np.maximum(start, finish[one], out=start)
        finish[number] = start + durations[number]
    return finish


def joint(odds: Odds, dues: Sequence[Due]) -> float:
    """Return the share of samples in which every due goal is reached together."""
    if not dues:
        return 1.0
    every = [odds.finish[due.build, due.level] <= due.move_in + 1e-6 for due in dues]
    return float(np.mean(np.logical_and.reduce(every)))
