"""What moves the date: the same samples again with one job ended today, or later."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from scheduling.draws import Draw
from scheduling.goals import Due, Goal
from scheduling.kernel import Kernel, Times
from scheduling.network import Network
from scheduling.readiness import Key, Odds, reached
from scheduling.timeline import PER_DAY

SAMPLES = 1_000


@dataclass(slots=True)
class Few:
    """Some samples of the odds, to be run again with a change."""

    kernel: Kernel
    times: Times
    draws: list[tuple[Draw, ...]]


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
    of them moves none and is left out.
    """
    entries = list(dues)
    few = _few(odds)
    needed = [few.kernel.needs(goals[due.build, due.level].nodes) for due in entries]
    driving = _driving(few, goals, entries)
    found = []
    for number in front:
        touched = [
            due for due, nodes in zip(entries, needed, strict=True) if number in nodes
        ]
        if touched and driving[number] and not network.nodes[number].gone:
            found += _moves(
                network, few, goals, touched, number, frozenset().union(*needed)
            )
    found.sort(key=lambda move: (-move.gain_probability, -move.gain_p80_days, move.job))
    return found


def _few(odds: Odds) -> Few:
    """Return the first samples of the first block: enough to compare with."""
    return Few(
        odds.kernel,
        odds.first.first(SAMPLES),
        [tuple(draw.first(SAMPLES) for draw in one) for one in odds.draws],
    )


def _driving(few: Few, goals: Mapping[Key, Goal], dues: list[Due]) -> list[bool]:
    """Return which nodes set an entry's date in at least one sample."""
    on = [np.zeros(len(row), dtype=bool) for row in few.times.finish]
    for due in dues:
        ends = goals[due.build, due.level].ends
        if ends:
            last = np.maximum.reduce([few.times.finish[number] for number in ends])
            for number in ends:
                on[number] |= few.times.finish[number] >= last - 1e-6
    few.kernel.trace(few.times, on)
    return [bool(one.any()) for one in on]


def _moves(
    network: Network,
    few: Few,
    goals: Mapping[Key, Goal],
    dues: list[Due],
    number: int,
    needed: frozenset[int],
) -> Iterator[Move]:
    draws = list(few.draws)
    draws[number] = _ended(few, network, number)
    only = few.kernel.reached(number) & needed
    times = few.kernel.run(draws, base=few.times, only=only)
    size = len(times.finish[number])
    for due in dues:
        goal = goals[due.build, due.level]
        before = reached(network, few.times, goal, size)
        after = reached(network, times, goal, size)
        now = float(np.mean(before <= due.move_in))
        then = float(np.mean(after <= due.move_in))
        gain = (np.percentile(before, 80) - np.percentile(after, 80)) / PER_DAY
        for job in network.nodes[number].ids:
            yield Move(job, due, then - now, float(gain), now, then)


def _ended(odds: Few, network: Network, number: int) -> tuple[Draw, ...]:
    nothing = np.zeros(len(odds.draws[number][0].length))
    ended = np.full(len(nothing), network.now)
    return tuple(
        replace(draw, length=nothing, finish=None if draw.finish is None else ended)
        for draw in odds.draws[number]
    )
