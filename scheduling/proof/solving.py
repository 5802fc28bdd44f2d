"""Runs the solver: for so long, on so many cores, until somebody says stop."""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass

from ortools.sat.python import cp_model

GLANCE = 0.1  # seconds between looks at whether to stop

Stop = Callable[[], bool]


@dataclass(frozen=True, slots=True)
class Effort:
    """How hard to try.

    With `repeatable` the seconds are the solver's own count of its work on one core,
    and two runs give the same result.
    """

    workers: int = 2
    seed: int = 1
    repeatable: bool = False
    stop: Stop | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """What the solver says: values to read if there are any, and how sure it is."""

    solver: cp_model.CpSolver
    any: bool
    best: bool
    impossible: bool

    @property
    def bound(self) -> int:
        """Return what no plan can be under."""
        return round(self.solver.best_objective_bound)


def solve(
    model: cp_model.CpModel, seconds: float, effort: Effort, *, quick: bool = False
) -> Found:
    """Return what the solver finds in the time given.

    Notes
    -----
    With `quick` it starts searching soon and leaves out what pays only in the long
    run: on many runs of starts that takes longer than a window is worth.
    """
    solver = cp_model.CpSolver()
    told = solver.parameters
    told.random_seed = effort.seed
    told.num_workers = 1 if effort.repeatable else effort.workers
    told.symmetry_level = 1
    # The solver's feasibility jump brings the process down (OR-Tools 9.15) where its
    # presolve fixes all there is in one constraint. Our models come with a plan anyway.
    told.use_feasibility_jump = False
    told.num_violation_ls = 0
    if quick:
        told.cp_model_probing_level = 0
        told.max_presolve_iterations = 1
        told.linearization_level = 0
    if effort.repeatable:
        told.max_deterministic_time = max(seconds, 0.001)
    else:
        told.max_time_in_seconds = max(seconds, 0.01)
    status = _run(solver, model, effort.stop)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(model.validate())
    return Found(
        solver,
        status in (cp_model.OPTIMAL, cp_model.FEASIBLE),
        status == cp_model.OPTIMAL,
        status == cp_model.INFEASIBLE,
    )


def _run(
    solver: cp_model.CpSolver, model: cp_model.CpModel, stop: Stop | None
) -> cp_model.CpSolverStatus:
    if stop is None:
        return solver.solve(model)
    said: list[cp_model.CpSolverStatus] = []
    worker = threading.Thread(target=lambda: said.append(solver.solve(model)))
    worker.start()
    while worker.is_alive():
        if stop():
            solver.stop_search()
        worker.join(GLANCE)
    return said[0]
