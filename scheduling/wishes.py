"""What a good plan is, in whole numbers, so that every search means the same by it.

Three things in order, a later one only deciding between plans equal in those before:
how late the dated cars are, how soon every car is finished, and how little changes
for the people who already follow a plan. Cars weigh by the lead's order.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from scheduling.goals import Due, Goal
from scheduling.network import Network
from scheduling.plan import Plan
from scheduling.timeline import PER_DAY, TINY

FIRST = 60  # weight of the car that comes first; the second has half of it, and so on
OTHER_HANDS = PER_DAY  # handing a job to somebody else counts like moving it a day

Cost = tuple[int, int, int]


@dataclass(frozen=True, slots=True)
class Wish:
    """The last of `ends` is to finish soon; by `move_in`, where there is a date.

    Parameters
    ----------
    ends : tuple of node numbers, never empty
    move_in : int, optional
        Quarter. Finishing earlier earns nothing in a wish that has one.
    weight : int
        What one quarter costs.
    """

    ends: tuple[int, ...]
    move_in: int | None
    weight: int


@dataclass(frozen=True, slots=True)
class Wishes:
    """`dated` makes the first part of the cost, `soon` the second."""

    now: int
    dated: tuple[Wish, ...]
    soon: tuple[Wish, ...]


@dataclass(frozen=True, slots=True)
class Following:
    """The plan people follow: start (quarter) and hands of jobs by id.

    With `keep` its order is kept and nothing is searched.
    """

    start: Mapping[str, int]
    who: Mapping[str, tuple[str, ...]]
    keep: bool = False


def whole(moment: float) -> int:
    """Return the first whole quarter at or after a moment."""
    return math.ceil(moment - TINY)


def wishes_of(
    network: Network,
    goals: Mapping[tuple[str | None, str], Goal],
    dues: Iterable[Due],
) -> Wishes:
    """Return the wishes of a plan.

    Parameters
    ----------
    network : Network
    goals : mapping of (car, level) to Goal
    dues : iterable of Due
        The entries of the shows.

    Returns
    -------
    Wishes
        One dated wish for each entry; one wish to be soon for each level of each
        car, dated cars too, so that a car with a date keeps its time in hand.
    """
    weight = weights_of(network.plan)
    dated = [
        Wish(goal.ends, math.floor(due.move_in + TINY), weight[due.build])
        for due in dues
        if (goal := goals[due.build, due.level]).ends
    ]
    soon: dict[tuple[int, ...], Wish] = {}
    for (build, _), goal in goals.items():
        if goal.ends:
            known = soon.get(goal.ends)
            much = weight[build] + (known.weight if known else 0)
            soon[goal.ends] = Wish(goal.ends, None, much)
    return Wishes(whole(network.now), tuple(dated), tuple(soon.values()))


def weights_of(plan: Plan) -> dict[str | None, int]:
    """Return what a quarter of each car weighs; jobs of no car come last.

    Notes
    -----
    `FIRST` over the place in the lead's order. Cars of equal rank weigh the same.
    """
    ranks = sorted({build.rank for build in plan.builds})
    place = {rank: position for position, rank in enumerate(ranks, start=1)}
    weight: dict[str | None, int] = {
        build.id: max(FIRST // place[build.rank], 1) for build in plan.builds
    }
    weight[None] = max(FIRST // (len(ranks) + 1), 1) if ranks else 1
    return weight


def cost_of(wishes: Wishes, finish: Sequence[float], change: int = 0) -> Cost:
    """Return the cost of a plan; of two plans the smaller tuple is the better one.

    Parameters
    ----------
    finish : sequence of float, one per node
        Quarters.
    change : int
        As `change_of` gives it.

    Returns
    -------
    tuple of int
        Weighted quarters late, weighted quarters from now to each finish, change.
    """
    late = sum(
        one.weight * max(0, _end(one, finish) - (one.move_in or 0))
        for one in wishes.dated
    )
    soon = sum(one.weight * (_end(one, finish) - wishes.now) for one in wishes.soon)
    return late, soon, change


def _end(wish: Wish, finish: Sequence[float]) -> int:
    return max(whole(finish[number]) for number in wish.ends)


def change_of(
    network: Network,
    following: Following | None,
    start: Sequence[float],
    team: Sequence[tuple[str, ...]],
) -> int:
    """Return by how many quarters starts have moved, and a day for other hands.

    Notes
    -----
    Jobs begun, left out or not in the plan followed do not count.
    """
    if following is None:
        return 0
    moved = 0
    for number, node in enumerate(network.nodes):
        if node.begun or node.gone:
            continue
        for job in node.ids:
            if job in following.start:
                moved += abs(whole(start[number]) - following.start[job])
                who = following.who.get(job, ())
                moved += OTHER_HANDS * (sorted(who) != sorted(team[number]))
    return moved
