"""The solver does not bring the process down, whatever its presolve leaves of a model.

With its feasibility jump, OR-Tools 9.15 writes to address 0 on these models. They were
found by drawing small ones until one ended the process; several in a thousand do.
"""

import multiprocessing
import random

import pytest
from ortools.sat.python import cp_model

from scheduling.proof.solving import Effort, solve

LIMIT = 14


def drawn(seed: int, jobs: int) -> cp_model.CpModel:
    """Return jobs sharing one place, in a little room to move, to end soonest."""
    dice = random.Random(seed)
    length = [dice.randint(1, 10) for _ in range(jobs)]
    takes = [dice.randint(2, 10) for _ in range(jobs)]
    room = dice.choice([2, 4, 6, 10])
    earlier = [
        [one for one in range(job) if dice.random() < 1.5 / jobs] for job in range(jobs)
    ]
    model = cp_model.CpModel()
    first: list[int] = []
    starts = []
    for job in range(jobs):
        after = [first[one] + length[one] for one in earlier[job]]
        first.append(max([*after, dice.randint(0, 15)]))
        last = first[job] + dice.randint(0, room)
        starts.append(model.new_int_var(first[job], last, ""))
    for job, before in enumerate(earlier):
        for one in before:
            model.add(starts[job] >= starts[one] + length[one])
    spans = [
        model.new_fixed_size_interval_var(start, one, "")
        for start, one in zip(starts, length, strict=True)
    ]
    model.add_cumulative(spans, takes, LIMIT)
    end = model.new_int_var(0, max(first) + 30, "")
    for start, one in zip(starts, length, strict=True):
        model.add(end >= start + one)
    model.minimize(end)
    return model


def solved(seed: int, jobs: int) -> None:
    assert solve(drawn(seed, jobs), 1.0, Effort(), quick=True).best


@pytest.mark.parametrize(("seed", "jobs"), [(48, 6), (268, 8)])
def test_a_model_presolved_to_nothing_is_solved(seed: int, jobs: int) -> None:
    child = multiprocessing.get_context("spawn").Process(
        target=solved, args=(seed, jobs)
    )
    child.start()
    child.join()
    assert child.exitcode == 0, "the solver ended the process"
