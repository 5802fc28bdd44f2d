"""What is being proved, and what has been so far."""

from __future__ import annotations

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
