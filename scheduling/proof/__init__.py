"""Proves shared plans the best there is, with the constraint solver of OR-Tools.

The solver is loaded when it is first asked for; the engine works without it and says
that it is missing.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib.util import find_spec

from scheduling.network import Network
from scheduling.proof.task import Proof as Proof
from scheduling.shared_plan import SharedPlan
from scheduling.wishes import Following, Wishes


class NoSolver(Exception):
    """OR-Tools is not installed: plans are searched for, not proved."""


def has_solver() -> bool:
    """Return whether OR-Tools is installed."""
    return find_spec("ortools") is not None


def prove(
    network: Network,
    shared: SharedPlan,
    wishes: Wishes,
    *,
    following: Following | None = None,
    seconds: float,
    workers: int = 2,
    seed: int = 1,
    repeatable: bool = False,
    stop: Callable[[], bool] | None = None,
) -> Proof:
    """Make a plan better and say how good it is.

    Parameters
    ----------
    network : Network
    shared : SharedPlan
        A plan that keeps every limit; the solver starts from it.
    wishes : Wishes
        What makes a plan good; the same ones the search uses.
    following : Following, optional
        The plan people follow; of equally good plans the one nearest to it is wanted.
    seconds : float
        Time to spend, building the model not included.
    workers : int
        Cores the solver may use.
    seed : int
    repeatable : bool
        On one core and by the solver's own count of work, so that two runs agree.
    stop : callable, optional
        Asked about ten times a second from the calling thread; True ends the search.

    Returns
    -------
    Proof
        Its plan is never worse than `shared`.

    Raises
    ------
    NoSolver
        OR-Tools is not installed.

    Notes
    -----
    Up to sixty open jobs the whole plan is one problem, so the best plan can be
    proven; larger plans are improved a window at a time. Under-way work with nothing
    before it stays as `shared` has it.
    """
    if not has_solver():
        raise NoSolver("OR-Tools is not installed: pip install -r requirements.txt")
    from scheduling.proof.prove import prove_plan
    from scheduling.proof.solving import Effort

    effort = Effort(workers, seed, repeatable, stop)
    return prove_plan(network, shared, wishes, following, seconds, effort)
