"""Compiled or plain, on one thread or three: the samples are the same numbers."""

from datetime import date, timedelta
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
from tests.scheduling.random_workshops import problem
from tests.scheduling.strategies import valid_plans
from tests.scheduling.test_properties import some

SIZE = 300
DAYS = ("mon", "tue", "wed", "thu", "fri")
PUT_DOWN = {
    "now": "2027-01-11T08:00",
    "calendars": {"shop": {"week": {day: ["08:00-16:00"] for day in DAYS}}},
    "people": [{"id": "ana", "trades": {"weld": 3}}],
    "builds": [{"id": "coupe", "rank": 2}, {"id": "spyder", "rank": 1}],
    "shows": [
        {
            "id": "summer",
            "move_in": "2027-06-11T16:00",
            "entries": [{"build": "spyder"}],
        }
    ],
    "jobs": [
        {
            "id": "sand",
            "build": "coupe",
            "trade": "weld",
            "estimate": {"likely": 40, "fixed": True},
        },
        {
            "id": "weld",
            "build": "spyder",
            "trade": "weld",
            "not_before": "2027-01-13T08:00",
            "estimate": {"likely": 8, "fixed": True},
        },
    ],
}
WHOEVER = {
    **{key: PUT_DOWN[key] for key in ("now", "calendars", "builds", "shows")},
    "people": [
        {"id": "ben", "trades": {"weld": 2}},
        {
            "id": "ana",
            "trades": {"weld": 3},
            "away": ["2027-01-11/2027-01-13"],
        },
    ],
    "jobs": [
        {
            "id": "weld",
            "build": "spyder",
            "trade": "weld",
            "person": "ben",
            "estimate": {"low": 8, "likely": 14, "high": 30},
        },
        {
            "id": "sand",
            "build": "coupe",
            "trade": "weld",
            "estimate": {"likely": 8, "fixed": True},
        },
    ],
}
both = pytest.mark.skipif(PLAIN, reason="without numba there is only the plain way")
CLOSE = {"rtol": 0.0, "atol": 1e-6}  # quarters: a thousandth of a second


def placed(found: Any, flow: Flow, threads: int, plain: bool) -> Any:
    """Return hits and times of one block of samples."""
    kernel = Kernel(found.network, found.shared, flow, threads=threads, plain=plain)
    times = kernel.times_for(
        Drawer(found.network, found.shared, 3, 0, SIZE).all(threads, plain)
    )
    goals = [goal for goal in found.goals.values() if goal.ends]
    return kernel.run(times, goals), times


def agree(plan: Plan) -> None:
    found = scheduling.answer(plan, schedules=1, samples=2).found
    for flow in (found.odds.kernel.flow, free_flow(found.network)):
        hits, times = placed(found, flow, 1, plain=False)
        plain_hits, plain = placed(found, flow, 1, plain=True)
        assert np.array_equal(times.amounts, plain.amounts)
        assert np.allclose(times.ready, plain.ready, **CLOSE)
        assert np.allclose(times.start, plain.start, **CLOSE)
        assert np.allclose(times.finish, plain.finish, **CLOSE)
        assert np.array_equal(hits, plain_hits)


@both
@given(plan=valid_plans())
@some
def test_compiled_and_plain_agree_on_every_plan(plan: Plan) -> None:
    agree(plan)


@both
@pytest.mark.parametrize("seed", range(60))
def test_they_agree_where_hands_and_places_are_fought_over(seed: int) -> None:
    agree(scheduling.read_plan(problem(seed)))


@both
def test_they_agree_where_a_diary_is_long() -> None:
    """A long job is put down for many short ones; the late one begins when most of
    what is in the diary is over.
    """
    first = date(2027, 1, 12)
    pressing = [
        {
            "id": f"weld-{number}",
            "build": "spyder",
            "trade": "weld",
            "not_before": f"{first + timedelta(days=2 * number)}T08:00",
            "estimate": {"low": 1, "likely": 2, "high": 5},
        }
        for number in range(30)
    ]
    long, late = (
        {"id": name, "build": "coupe", "trade": "weld", "estimate": length}
        for name, length in (
            ("sand", {"low": 40, "likely": 90, "high": 260}),
            ("fill", {"low": 2, "likely": 4, "high": 9}),
        )
    )
    late["not_before"] = "2027-03-01T08:00"
    agree(scheduling.read_plan(PUT_DOWN | {"jobs": [*pressing, long, late]}))


@pytest.mark.parametrize("plain", [True, pytest.param(False, marks=both)])
def test_work_is_put_down_for_a_more_pressing_car(plain: bool) -> None:
    """By hand, eight hours a day: five days from Monday end on Friday at 16:00; with
    Wednesday given to the car that has a show, on the Monday after at 16:00.
    """
    found = scheduling.answer(
        scheduling.read_plan(PUT_DOWN), schedules=1, samples=2
    ).found
    _, times = placed(found, found.odds.kernel.flow, 1, plain)
    ends = {
        job: found.moment(float(times.finish[number].max())).isoformat()
        for job, number in found.network.index.items()
    }
    assert ends == {"weld": "2027-01-13T16:00:00", "sand": "2027-01-18T16:00:00"}


@pytest.mark.parametrize("plain", [True, pytest.param(False, marks=both)])
def test_a_job_goes_to_whoever_would_be_through_with_it_first(plain: bool) -> None:
    """By hand, eight hours a day: Ben sands after his weld; where that takes him past
    Wednesday, Ana is back on Thursday morning and has done it by 16:00.
    """
    found = scheduling.answer(
        scheduling.read_plan(WHOEVER), schedules=1, samples=2
    ).found
    _, times = placed(found, found.odds.kernel.flow, 1, plain)
    weld = times.amounts[found.network.index["weld"]] / 4  # hours
    sanded = times.finish[found.network.index["sand"]] / 4 - 8  # hours since Monday, 8
    days, hours = np.divmod(weld + 8, 8)
    assert 0.1 < np.mean(weld > 24) < 0.9
    assert np.allclose(sanded, np.where(weld > 24, 3 * 24 + 8, days * 24 + hours))
    assert found.shared.team[found.network.index["sand"]] == ("ben",)


@given(plan=valid_plans())
@some
def test_the_number_of_threads_changes_nothing(plan: Plan) -> None:
    found = scheduling.answer(plan, schedules=1, samples=2).found
    hits, times = placed(found, found.odds.kernel.flow, 1, plain=PLAIN)
    more_hits, more = placed(found, found.odds.kernel.flow, 3, plain=PLAIN)
    assert all(np.array_equal(a, b) for a, b in zip(times, more, strict=True))
    assert np.array_equal(hits, more_hits)
