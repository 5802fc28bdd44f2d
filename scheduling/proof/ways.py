"""The ways to do one node: from which starts, by whom, and how long each takes.

    starts   08:00 ......... 14:45   15:00 ... 16:30
    length   |---- 8 quarters ----|  |-- 8 + a night --|      two runs

Work pauses over closed time, so its length depends on its start; over a run of starts
it stays the same. That makes the calendars of any plan a short list.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from scheduling.many_moments import add_days_each, add_each
from scheduling.network import Network, Node, slot_vendor
from scheduling.soonest import instant, length_of, unbroken
from scheduling.timeline import PER_DAY, TINY
from scheduling.wishes import whole
from scheduling.work import Team, Work
from scheduling.working_time import Clock

Quarters = NDArray[np.int64]


class BeyondTables(Exception):
    """A range reaches past the written calendars; nothing is proved out there."""


@dataclass(frozen=True, slots=True)
class Run:
    """Work begun at any whole quarter `first`..`last` takes `length` to its finish."""

    first: int
    last: int
    length: int


@dataclass(frozen=True, slots=True)
class Way:
    """Runs of starts, in order, that are the same for each of `teams`."""

    teams: tuple[Team, ...]
    runs: tuple[Run, ...]


def ways_of(
    network: Network, node: Node, teams: Sequence[Team], span: tuple[int, int, int]
) -> tuple[Way, ...]:
    """Return the ways to do a node in a stretch of time.

    Parameters
    ----------
    teams : the teams to look at; the empty one where nobody has to be found
    span : tuple of int
        Earliest and latest start, and latest finish, quarters.

    Raises
    ------
    BeyondTables
        The stretch reaches past the written calendars.
    """
    first, last, ends = span[0], min(span[1], span[2]), span[2]
    if last < first:
        return ()
    if instant(node):
        return (Way(((),), (Run(first, last, 0),)),)
    alike: dict[tuple[Run, ...], list[Team]] = {}
    if ends >= network.clocks.timeline.end:
        raise BeyondTables
    for team in teams:
        runs = _runs(network, node, team, (first, last, ends))
        if runs:
            alike.setdefault(runs, []).append(team)
    return tuple(Way(tuple(teams), runs) for runs, teams in alike.items())


def _runs(
    network: Network, node: Node, team: Team, span: tuple[int, int, int]
) -> tuple[Run, ...]:
    first, last, ends = span
    clock, length = node.work.clock_of(team), length_of(network, node, team)
    if clock.always and not node.work.in_days and len(node.works) == 1:
        size = whole(length)
        last = min(last, ends - size)
        return (Run(first, last, size),) if last >= first else ()
    starts = _starts(network, node, clock, first, last)
    finishes = np.zeros(len(starts), dtype=np.int64)
    for one in node.works:
        finishes = np.maximum(finishes, _finishes(one, clock, length, starts))
    kept = finishes <= ends
    if unbroken(node):
        days = np.maximum(finishes - 1, starts) // PER_DAY
        kept &= clock.runs[starts // PER_DAY] == clock.runs[days]
    return runs_between(starts, finishes, kept)


def _starts(
    network: Network, node: Node, clock: Clock, first: int, last: int
) -> Quarters:
    """Return every quarter in which somebody could begin."""
    starts = first + np.flatnonzero(clock.working[first : last + 1])
    vendor = slot_vendor(network, node)
    if vendor:
        starts = starts[np.isin(starts // PER_DAY, network.slots[vendor])]
    return starts.astype(np.int64)


def _finishes(work: Work, clock: Clock, length: float, starts: Quarters) -> Quarters:
    if work.promise:
        return starts
    moments = starts.astype(np.float64)
    if work.teams:
        done = add_each(clock, moments, np.full(len(starts), length))
    elif work.in_days:
        done = add_days_each(work.clock, moments, np.full(len(starts), work.length))
    else:
        done = add_each(work.clock, moments, np.full(len(starts), work.length))
    return np.ceil(done - TINY).astype(np.int64)


def runs_between(
    starts: Quarters, finishes: Quarters, kept: NDArray[np.bool_] | None = None
) -> tuple[Run, ...]:
    """Return the longest unbroken runs of starts with one length each."""
    if kept is not None:
        starts, finishes = starts[kept], finishes[kept]
    if not len(starts):
        return ()
    lengths = finishes - starts
    edges = np.flatnonzero(np.diff(lengths) | (np.diff(starts) - 1)) + 1
    firsts = np.concatenate([[0], edges])
    lasts = np.concatenate([edges - 1, [len(starts) - 1]])
    return tuple(
        Run(int(starts[a]), int(starts[b]), int(lengths[a]))
        for a, b in zip(firsts, lasts, strict=True)
    )
