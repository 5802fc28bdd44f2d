"""What is being proved, and what has been so far."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scheduling.network import Network
from scheduling.shared_plan import SharedPlan
from scheduling.wishes import Cost, Following, Wishes, change_of, cost_of


@dataclass(frozen=True, slots=True)
class Proof:
    """A plan, what it costs, and what no plan costs less than.

    Parts of the bound after one that is not proven are lower bounds among the plans
    that are no worse in it.
    """

    plan: SharedPlan
    cost: Cost
    bound: Cost
    improved: bool

    @property
    def proven(self) -> bool:
        """Return whether no plan is better for the dates of the shows and the cars."""
        return self.cost[:2] <= self.bound[:2]


@dataclass(slots=True)
class Task:
    """One proof under way: the best plan so far and the bound so far."""

    network: Network
    wishes: Wishes
    following: Following | None
    soon: tuple[list[int], list[int]]
    best: SharedPlan
    bound: Cost

    def cost(self, shared: SharedPlan) -> Cost:
        """Return what a plan costs."""
        change = change_of(self.network, self.following, shared.start, shared.team)
        return cost_of(self.wishes, shared.finish, change)

    def keep(self, shared: SharedPlan) -> None:
        """Keep a plan if it is better."""
        if self.cost(shared) < self.cost(self.best):
            self.best = shared


def gap(wishes: Wishes, proof: Proof) -> float:
    """Return by how much more than its bound a plan may take, as a share.

    Notes
    -----
    Of the weighted time from now to the finishes that count: those of the dated cars
    as long as their lateness is not proven least, else those of all cars.
    """
    if proof.cost[0] > proof.bound[0]:
        wanted = sum(
            one.weight * max((one.move_in or 0) - wishes.now, 0) for one in wishes.dated
        )
        return (proof.cost[0] - proof.bound[0]) / max(wanted + proof.bound[0], 1)
    over = max(proof.cost[1] - proof.bound[1], 0)
    if not over:
        return 0.0
    return over / proof.bound[1] if proof.bound[1] else math.inf


def in_words(share: float) -> str:
    """Return the status of a plan: the best, or how near its bound, rounded up.

    Empty where nothing is known.
    """
    if math.isinf(share):
        return ""
    if share <= 0:
        return "proven best"
    return f"within {math.ceil(100 * share)} % of the bound"
