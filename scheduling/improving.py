"""A longer look for a better shared plan: search, then the constraint solver.

Not for a page that somebody waits for; `scheduling.answer` is.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from scheduling.followed import following_from
from scheduling.plan import Plan
from scheduling.planner import status_of
from scheduling.proof import has_solver, prove
from scheduling.shared_plan import SharedPlan
from scheduling.solve import Answer, Posed, answer_with, first_plan, pose
from scheduling.wishes import Following, wishes_of

SMALL = 60  # open jobs up to which the solver looks at the whole plan at once
SEARCH, SEARCH_LARGE = 0.4, 0.8  # share of the time for the search, before the solver

Watch = Callable[[float], bool]


def improve(
    plan: Plan,
    *,
    seconds: float,
    samples: int | None = None,
    seed: int | None = None,
    following: Mapping[str, Any] | None = None,
    watch: Watch | None = None,
    workers: int = 2,
    turn: int = 0,
) -> Answer:
    """Answer a plan after looking for the best shared plan for a while.

    Parameters
    ----------
    plan : Plan
    seconds : float
        Time for the shared plan.
    samples, seed : int, optional
        Override the plan's own.
    following : mapping, optional
        The answer people work to, as `Answer.as_dict` gives it. The new plan is never
        worse than it, and of equally good plans the one that changes least is kept.
    watch : callable, optional
        Told the share of the time that has gone, about ten times a second and from
        the calling thread; False ends the look with the best so far.
    workers : int
        Cores to use.
    turn : int
        Which part of a longer look this is: each tries other orders, while the draws
        behind the odds stay the same.

    Returns
    -------
    Answer
        Its `plan.status` is "proven best", or "within x % of the bound". Without
        OR-Tools it is what the search alone can say.
    """
    posed = pose(plan)
    seed = plan.seed if seed is None else seed
    told = following_from(posed.network, following)
    shared = better_plan(
        posed, seconds=seconds, seed=seed + turn, workers=workers, watch=watch,
        following=told,
    )  # fmt: skip
    return answer_with(posed, shared, samples=samples, seed=seed, following=told)


def better_plan(
    posed: Posed,
    *,
    seconds: float,
    seed: int,
    workers: int = 2,
    watch: Watch | None = None,
    following: Following | None = None,
) -> SharedPlan:
    """Return the best plan of a longer look; see `improve`."""
    began = time.monotonic()
    stopped = False

    def going(_: float = 0.0) -> bool:
        nonlocal stopped
        share = min((time.monotonic() - began) / max(seconds, 1e-9), 1.0)
        stopped = stopped or (watch is not None and not watch(share))
        return not stopped

    small = len(posed.network.nodes) <= SMALL
    search = SEARCH if small else SEARCH_LARGE
    shared = first_plan(posed, None, seconds * search, seed, following, going)
    # What a first call spends on compiling is not taken from the solver.
    left = max(seconds - (time.monotonic() - began), seconds * (1 - search))
    kept = following is not None and following.keep
    if kept or not has_solver() or left <= 0 or not going():
        return shared
    proof = prove(
        posed.network,
        shared,
        wishes_of(posed.network, posed.goals, posed.dues),
        following=following,
        seconds=left,
        workers=workers,
        seed=seed,
        stop=lambda: not going(),
    )
    status = status_of(proof.cost, proof.bound) if any(proof.bound) else shared.status
    return replace(
        proof.plan,
        cost=proof.cost,
        bound=proof.bound,
        status=status,
        schedules=shared.schedules,
    )
