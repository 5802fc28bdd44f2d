"""What moves the date: the same samples again with one job ended today, or later."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import partial

import numpy as np
from numpy.typing import NDArray

from scheduling.goals import Due, Goal
from scheduling.network import Network
from scheduling.readiness import Key, Odds, percentiles_of, reached
from scheduling.sampling.kernel import Kernel
from scheduling.sampling.times import Times
from scheduling.threads import side_by_side
from scheduling.timeline import PER_DAY

Floats = NDArray[np.float64]

SAMPLES = 1_000
CANDIDATES = 8


@dataclass(frozen=True, slots=True)
class Reached:
    """When the first samples reach an entry's goal, before anything is changed.

    `said` is its chance in all samples: what the rest of the answer says.
    """

    moments: Floats
    p80: float
    chance: float
    said: float


@dataclass(frozen=True, slots=True)
class Few:
    """The first samples of the odds, to be run again with a change.

    `whole` are all of them, left alone; `spare` are copies of the first that nobody is
    at. `needed` are all nodes that can delay some entry.
    """

    kernel: Kernel
    whole: Times
    spare: list[Times]
    before: dict[Due, Reached]
    needed: frozenset[int]

    def copy(self) -> Times:
        """Return a copy that nobody is at."""
        try:
            return self.spare.pop()
        except IndexError:
            return self.whole.first(SAMPLES)


@dataclass(frozen=True, slots=True)
class Move:
    """The change in one entry's odds if a job ended today."""

    job: str
    due: Due
    gain_probability: float
    gain_p80_days: float
    probability_now: float
    probability_then: float


def moves_of(
    network: Network,
    odds: Odds,
    goals: Mapping[Key, Goal],
    dues: Iterable[Due],
    front: Iterable[int],
) -> list[Move]:
    """Return how each job of the front would move each show entry, most first.

    Parameters
    ----------
    front : node numbers
        Jobs that do not themselves wait.

    Notes
    -----
    Common random numbers: the first samples again, with the job's length set to
    nothing and everything after it worked out anew. A job that sets no date in any
    of them moves none; of the others, the eight that drive most often are tried (a
    job cannot gain more than the share of samples in which it drives).
    """
    entries = list(dues)
    kernel, times = odds.kernel, odds.first.first(SAMPLES)
    wanted = {due: goals[due.build, due.level] for due in entries}
    needed = {due: kernel.needs(goal.nodes) for due, goal in wanted.items()}
    # The samples stand as they were worked out; what drives them is all that is asked.
    drives = kernel.run(times, list(wanted.values()), only=frozenset())
    able = [
        number for number in front if drives[number] and not network.nodes[number].gone
    ]
    able.sort(key=lambda number: (-drives[number], number))
    before = {due: _before(network, odds, times, due, wanted[due]) for due in entries}
    every = frozenset[int]().union(*needed.values())
    few = Few(kernel, odds.first, [times], before, every)
    calls = []
    for number in able[:CANDIDATES]:
        touched = {due: wanted[due] for due in entries if number in needed[due]}
        calls.append(partial(_moves, network, few, touched, number))
    found = [move for moves in side_by_side(calls) for move in moves]
    found.sort(key=lambda move: (-move.gain_probability, -move.gain_p80_days, move.job))
    return found


def _before(
    network: Network, odds: Odds, times: Times, due: Due, goal: Goal
) -> Reached:
    moments = reached(network, times, goal)
    return Reached(
        moments,
        float(percentiles_of(moments, (80,))[0]),
        float(np.mean(moments <= due.move_in)),
        odds.chance((due.build, due.level), due.move_in),
    )


def _moves(
    network: Network, few: Few, goals: Mapping[Due, Goal], number: int
) -> list[Move]:
    """Return what each entry gains from one job, worked out on one thread."""
    times, found = few.copy(), []
    rows, only = few.kernel.works(number), few.kernel.reached(number) & few.needed
    works = network.nodes[number].works
    ended = [[network.now if work.promise else 0.0] for work in works]
    times.amounts[rows] = ended
    few.kernel.run(times, only=only, threads=1)
    for due, goal in goals.items():
        before, after = few.before[due], reached(network, times, goal)
        gain = (before.p80 - percentiles_of(after, (80,))[0]) / PER_DAY
        then = float(np.mean(after <= due.move_in))
        shown = min(max(before.said + then - before.chance, 0.0), 1.0)
        for job in network.nodes[number].ids:
            gained = shown - before.said
            found.append(Move(job, due, gained, float(gain), before.said, shown))
    times.put_back(few.whole, rows, only)
    few.spare.append(times)
    return found
