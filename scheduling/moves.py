"""What moves the date: the same samples again with one job ended today, or later."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from scheduling.goals import Due, Goal
from scheduling.network import Network
from scheduling.readiness import Key, Odds, reached
from scheduling.sampling.kernel import Kernel
from scheduling.sampling.times import Times
from scheduling.timeline import PER_DAY

SAMPLES = 1_000
CANDIDATES = 8


@dataclass(slots=True)
class Few:
    """Some samples of the odds, to be run again with a change.

    `said` is each entry's chance in all samples: what the rest of the answer says.
    """

    kernel: Kernel
    times: Times
    said: dict[Due, float]


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
    few = _few(odds, entries)
    wanted = [goals[due.build, due.level] for due in entries]
    needed = [few.kernel.needs(goal.nodes) for goal in wanted]
    drives = few.kernel.run(few.times, wanted)
    able = [
        number for number in front if drives[number] and not network.nodes[number].gone
    ]
    able.sort(key=lambda number: (-drives[number], number))
    found: list[Move] = []
    spare = few.times.first(SAMPLES)
    for number in able[:CANDIDATES]:
        touched = [
            due for due, nodes in zip(entries, needed, strict=True) if number in nodes
        ]
        spare.become(few.times)
        every = frozenset[int]().union(*needed)
        found += _moves(network, few, spare, goals, touched, number, every)
    found.sort(key=lambda move: (-move.gain_probability, -move.gain_p80_days, move.job))
    return found


def _few(odds: Odds, dues: list[Due]) -> Few:
    """Return the first samples of the first block: enough to compare with."""
    return Few(
        odds.kernel,
        odds.first.first(SAMPLES),
        {due: odds.chance((due.build, due.level), due.move_in) for due in dues},
    )


def _moves(
    network: Network,
    few: Few,
    times: Times,
    goals: Mapping[Key, Goal],
    dues: list[Due],
    number: int,
    needed: frozenset[int],
) -> Iterator[Move]:
    works = network.nodes[number].works
    ended = [[network.now if work.promise else 0.0] for work in works]
    times.amounts[few.kernel.works(number)] = ended
    only = few.kernel.reached(number) & needed
    few.kernel.run(times, only=only)
    for due in dues:
        goal = goals[due.build, due.level]
        before = reached(network, few.times, goal)
        after = reached(network, times, goal)
        now = float(np.mean(before <= due.move_in))
        then = float(np.mean(after <= due.move_in))
        gain = (np.percentile(before, 80) - np.percentile(after, 80)) / PER_DAY
        said = few.said[due]
        shown = min(max(said + then - now, 0.0), 1.0)
        for job in network.nodes[number].ids:
            yield Move(job, due, shown - said, float(gain), said, shown)
