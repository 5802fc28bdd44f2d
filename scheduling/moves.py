"""What moves the date: the same samples again with one job ended today, or later."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from scheduling.draws import Draw
from scheduling.goals import Due, Goal
from scheduling.network import Network
from scheduling.readiness import Key, Odds, reached
from scheduling.timeline import PER_DAY


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
    Common random numbers: the first block of samples, with the job's length set to
    nothing and everything after it worked out anew.
    """
    found = []
    entries = list(dues)
    for number in front:
        touched = [
            due
            for due in entries
            if number in _reach(odds, goals[due.build, due.level])
        ]
        if not touched or network.nodes[number].gone:
            continue
        draws = list(odds.draws)
        draws[number] = _ended(odds, network, number)
        only = odds.kernel.reached(number)
        times = odds.kernel.run(draws, base=odds.first, only=only)
        size = len(times.finish[number])
        for due in touched:
            goal = goals[due.build, due.level]
            before = reached(network, odds.first, goal, size)
            after = reached(network, times, goal, size)
            now = float(np.mean(before <= due.move_in))
            then = float(np.mean(after <= due.move_in))
            gain = (np.percentile(before, 80) - np.percentile(after, 80)) / PER_DAY
            for job in network.nodes[number].ids:
                found.append(Move(job, due, then - now, float(gain), now, then))
    found.sort(key=lambda move: (-move.gain_probability, -move.gain_p80_days, move.job))
    return found


def _ended(odds: Odds, network: Network, number: int) -> tuple[Draw, ...]:
    nothing = np.zeros(len(odds.draws[number][0].length))
    ended = np.full(len(nothing), network.now)
    return tuple(
        replace(draw, length=nothing, finish=None if draw.finish is None else ended)
        for draw in odds.draws[number]
    )


def _reach(odds: Odds, goal: Goal) -> frozenset[int]:
    """Return what can delay a goal: what it needs, and whose hands that takes over."""
    found = set(goal.nodes)
    for number in reversed(odds.kernel.order):
        if number in found:
            found.update(odds.kernel.flow.before[number])
            found.update(arc.before for arc in odds.kernel.network.nodes[number].before)
    return frozenset(found)
