"""What drove each date: marks spread backward through links, hands and places."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from scheduling.goals import Goal
from scheduling.sampling.rows import RowKernel
from scheduling.sampling.times import Times
from scheduling.timeline import TINY

Bools = NDArray[np.bool_]


def driving(kernel: RowKernel, times: Times, goals: Sequence[Goal]) -> list[Bools]:
    """Return for every node the samples in which it sets some goal's date.

    Parameters
    ----------
    goals : sequence of Goal
        In each sample only the last of a goal's ends drives it.
    """
    on = _ends(times, goals)
    users: dict[str, list[int]] = {}
    for number in kernel.flow.order:
        for name in kernel.flow.names(number):
            users.setdefault(name, []).append(number)
    for number in reversed(kernel.flow.order):
        for name in kernel.flow.names(number):
            users[name].pop()
        if on[number].any():
            _spread(kernel, times, on, number, users)
    return on


def _ends(times: Times, goals: Sequence[Goal]) -> list[Bools]:
    size = times.finish.shape[1]
    on = [np.zeros(size, dtype=bool) for _ in times.finish]
    for goal in goals:
        if goal.ends:
            last = np.maximum.reduce([times.finish[number] for number in goal.ends])
            for number in goal.ends:
                on[number] |= times.finish[number] >= last - TINY
    return on


def _spread(
    kernel: RowKernel,
    times: Times,
    on: list[Bools],
    number: int,
    users: dict[str, list[int]],
) -> None:
    """Mark what set one node's start, or had its people or places meanwhile."""
    here, ready, finish = on[number], times.ready[number], times.finish[number]
    for arc in kernel.network.nodes[number].before:
        bar = finish if arc.kind == "by" else ready
        on[arc.before] |= here & (kernel.asked(arc, times) >= bar - TINY)
    first, last = ready.min(), finish.max()
    for name in kernel.flow.names(number):
        mine = here & kernel.holding(number, name, times)
        for before in users[name]:
            ended, began = times.finish[before], times.start[before]
            if ended.max() > first and began.min() < last:
                met = mine & (ended > ready) & (began < finish)
                on[before] |= met & kernel.holding(before, name, times)
