"""What finished work says about shared factors, against the exact normal answers."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest
from scipy import integrate, stats

import scheduling
from scheduling.sampling.draws import Drawer
from scheduling.sampling.learned import Learned, Seen

SIZE = 20_000


def normal(name: str) -> Any:
    seed = sum(name.encode())
    return np.random.default_rng(seed).standard_normal(SIZE)


def test_nothing_seen_leaves_the_numbers_as_they_are() -> None:
    assert np.array_equal(Learned([]).scores("build:a", normal), normal("build:a"))


def test_finished_jobs_move_a_factor_as_the_normal_law_says() -> None:
    """Normal prior, normal noise: precision 1 + n share^2 / own^2 (any textbook)."""
    seen = [Seen({"build:a": 0.3}, 0.4, log, done=True) for log in (0.5, 0.1, 0.3)]
    found = Learned(seen).scores("build:a", normal)
    precision = 1.0 + 3 * 0.3**2 / 0.4**2
    mean = 0.3 * (0.5 + 0.1 + 0.3) / 0.4**2 / precision
    assert found.mean() == pytest.approx(mean, abs=4 / math.sqrt(SIZE))
    assert found.std() == pytest.approx(1 / math.sqrt(precision), rel=0.03)


def test_work_not_yet_done_moves_it_as_the_integral_says() -> None:
    """Mean and variance of z given 0.5 z + 0.4 e > 0.6, by numerical integration."""

    def weight(z: float) -> float:
        return float(stats.norm.pdf(z) * stats.norm.sf((0.6 - 0.5 * z) / 0.4))

    mass, mean, square = (
        integrate.quad(lambda z, p=p: z**p * weight(z), -9, 9)[0] for p in range(3)
    )
    mean, square = mean / mass, square / mass
    told = Learned([Seen({"vendor:v": 0.5}, 0.4, 0.6, done=False)])
    found = told.scores("vendor:v", normal)
    assert found.mean() == pytest.approx(mean, abs=4 / math.sqrt(SIZE))
    assert found.var() == pytest.approx(square - mean**2, rel=0.04)


def test_a_job_of_car_and_vendor_ties_their_factors() -> None:
    """One sum seen exactly: what the one gives the other takes; covariance by hand."""
    seen = [Seen({"build:a": 0.3, "vendor:v": 0.3}, 0.3, 0.3, done=True)]
    told = Learned(seen)
    pair = [told.scores(name, normal) for name in ("build:a", "vendor:v")]
    # I - a a' / (a'a + s^2): 2/3 on the diagonal, -1/3 off it
    assert np.cov(pair) == pytest.approx(
        np.array([[2 / 3, -1 / 3], [-1 / 3, 2 / 3]]), abs=0.03
    )


def plan(*jobs: dict[str, Any]) -> dict[str, Any]:
    week = {day: ["08:00-16:00"] for day in ("mon", "tue", "wed", "thu", "fri")}
    return {
        "now": "2027-02-01T08:00",
        "calendars": {"shop": {"week": week}},
        "people": [{"id": "ana", "calendar": "shop", "trades": {"weld": 3}}],
        "vendors": [{"id": "plater", "calendar": "shop", "reject_chance": 0.0}],
        "builds": [{"id": "car"}],
        "jobs": list(jobs),
    }


def median(document: dict[str, Any], job: str) -> float:
    found = scheduling.answer(scheduling.read_plan(document), samples=5).found
    rows = Drawer(found.network, found.shared, 1, 0, 4000).all()
    names = [one for node in found.network.nodes for one in node.ids]
    return float(np.median(rows[names.index(job)]))


def weld(name: str, **more: Any) -> dict[str, Any]:
    estimate = {"low": 4, "likely": 6, "high": 9}
    return {"id": name, "build": "car", "trade": "weld", "estimate": estimate} | more


def past(name: str, day: int, hours: int) -> dict[str, Any]:
    date = f"2027-01-{day:02}"
    span = {"started": f"{date}T08:00", "finished": f"{date}T{8 + hours:02}:00"}
    return weld(name, state="done", person="ana", **span)


def test_a_car_whose_jobs_ran_long_is_expected_to_go_on_so() -> None:
    last = weld("last")
    slow = [past(f"s{day}", day, 8) for day in (11, 12, 13, 14, 15, 18, 19, 20)]
    quick = [past(f"q{day}", day, 4) for day in (11, 12, 13, 14, 15, 18, 19, 20)]
    usual = median(plan(last), "last")
    assert median(plan(*slow, last), "last") > 1.04 * usual
    assert median(plan(*quick, last), "last") < 0.96 * usual


@pytest.mark.parametrize("more", [{"person": None}, {"rework_chance": 0.2}])
def test_a_clock_that_may_have_run_for_nothing_teaches_nothing(
    more: dict[str, Any],
) -> None:
    last = weld("last")
    slow = [past(f"s{day}", day, 8) | more for day in (11, 12, 13, 14)]
    assert median(plan(*slow, last), "last") == median(plan(last), "last")


def test_work_that_lay_while_its_person_did_other_work_teaches_nothing() -> None:
    last, lain = weld("last"), past("lain", 11, 8)
    between = past("between", 11, 6) | {"estimate": {"likely": 6, "fixed": True}}
    alone, beside = plan(lain, last), plan(lain, between, last)
    assert median(alone, "last") > median(plan(last), "last")
    assert median(beside, "last") == median(plan(last), "last")


def test_a_late_vendor_is_late_with_the_rest_too() -> None:
    def plate(name: str, **more: Any) -> dict[str, Any]:
        estimate = {"low": 4, "likely": 5, "high": 7}
        job = {"id": name, "kind": "outside", "vendor": "plater", "build": "car"}
        return job | {"estimate": estimate} | more

    away = {"sent": "2027-01-11", "started": "2027-01-11T08:00"}
    back = {"state": "done", "finished": "2027-01-22T16:00"}
    usual = median(plan(plate("next")), "next")
    assert median(plan(plate("late", **away, **back), plate("next")), "next") > usual
    assert median(plan(plate("out", **away), plate("next")), "next") > usual
