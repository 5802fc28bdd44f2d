"""Compiled or plain, on one thread or three: the samples are the same numbers."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given

import scheduling
from scheduling.compiled import PLAIN
from scheduling.flow import Flow, free_flow
from scheduling.plan import Plan
from scheduling.sampling.draws import Drawer
from scheduling.sampling.kernel import Kernel
from tests.scheduling.strategies import valid_plans
from tests.scheduling.test_properties import some

SIZE = 300
CLOSE = {"rtol": 0.0, "atol": 1e-6}  # quarters: a thousandth of a second


def placed(found: Any, flow: Flow, threads: int, plain: bool) -> Any:
    """Return hits and times of one block of samples."""
    kernel = Kernel(found.network, found.shared, flow, threads=threads, plain=plain)
    times = kernel.times_for(
        Drawer(found.network, found.shared, 3, 0, SIZE).all(threads, plain)
    )
    goals = [goal for goal in found.goals.values() if goal.ends]
    return kernel.run(times, goals), times


@pytest.mark.skipif(PLAIN, reason="numba is not here: there is only the plain way")
@given(plan=valid_plans())
@some
def test_compiled_and_plain_agree_on_every_plan(plan: Plan) -> None:
    found = scheduling.answer(plan, schedules=1, samples=2).found
    for flow in (found.odds.kernel.flow, free_flow(found.network)):
        hits, times = placed(found, flow, 1, plain=False)
        plain_hits, plain = placed(found, flow, 1, plain=True)
        assert np.array_equal(times.amounts, plain.amounts)
        assert np.allclose(times.ready, plain.ready, **CLOSE)
        assert np.allclose(times.start, plain.start, **CLOSE)
        assert np.allclose(times.finish, plain.finish, **CLOSE)
        assert np.array_equal(hits, plain_hits)


@given(plan=valid_plans())
@some
def test_the_number_of_threads_changes_nothing(plan: Plan) -> None:
    found = scheduling.answer(plan, schedules=1, samples=2).found
    hits, times = placed(found, found.odds.kernel.flow, 1, plain=PLAIN)
    more_hits, more = placed(found, found.odds.kernel.flow, 3, plain=PLAIN)
    assert all(np.array_equal(a, b) for a, b in zip(times, more, strict=True))
    assert np.array_equal(hits, more_hits)
