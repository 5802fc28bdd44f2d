"""Drawn lengths: each thing has numbers of its own, block by block."""

from typing import Any
from unittest import mock

import numpy as np
import pytest

import scheduling
from scheduling import readiness
from scheduling.sampling import draws
from scheduling.sampling.draws import Drawer
from tests.scheduling.test_judge import hands, workshop


def drawn(plan: dict[str, Any], block: int = 0, seed: int = 1) -> dict[str, Any]:
    """Return the lengths of every job by id."""
    found = scheduling.answer(scheduling.read_plan(plan), samples=5).found
    rows = Drawer(found.network, found.shared, seed, block, 200).all()
    jobs = [job for node in found.network.nodes for job in node.ids]
    return dict(zip(jobs, rows, strict=True))


def plan(*more: dict[str, Any]) -> dict[str, Any]:
    spread = {"low": 2, "likely": 4, "high": 9}
    first = hands("one", 4) | {"estimate": spread, "rework_chance": 0.3}
    return workshop(jobs=[first, *more], consignments=[])


def test_another_job_in_the_plan_leaves_a_jobs_numbers_alone() -> None:
    alone, beside = drawn(plan()), drawn(plan(hands("two", 3)))
    assert np.array_equal(alone["one"], beside["one"])


def test_a_block_is_the_same_whatever_was_drawn_before_it() -> None:
    first, second, again = drawn(plan()), drawn(plan(), 1), drawn(plan(), 1)
    assert np.array_equal(second["one"], again["one"])
    assert not np.array_equal(first["one"], second["one"])


def test_another_seed_gives_other_numbers() -> None:
    assert not np.array_equal(drawn(plan())["one"], drawn(plan(), seed=2)["one"])


def test_rework_doubles_as_often_as_it_is_said_to() -> None:
    """A fixed job of four hours with rework 0.3: 0.3 of 200 within 3.5 errors."""
    again = plan(hands("two", 4, rework_chance=0.3))
    lengths = drawn(again)["two"]
    assert set(np.round(lengths / lengths.min(), 6)) == {1.0, 2.0}
    share = float(np.mean(lengths > lengths.min() * 1.5))
    assert abs(share - 0.3) < 3.5 * (0.3 * 0.7 / 200) ** 0.5


@pytest.mark.parametrize("block", [500, 1000])
def test_chances_do_not_hang_on_how_samples_are_parcelled(block: int) -> None:
    """Other parcels draw other numbers: the chance moves by sampling error only."""
    show = {"id": "s", "name": "Show", "move_in": "2027-01-11T14:00"}
    car = plan() | {
        "builds": [{"id": "car"}],
        "shows": [show | {"entries": [{"build": "car"}]}],
    }
    car["jobs"][0]["build"] = "car"
    told = [_chance(car), *_parcelled(car, block)]
    assert 0.1 < told[0] < 0.9
    assert abs(told[0] - told[1]) < 4 * (2 * 0.25 / 4000) ** 0.5


def _chance(car: dict[str, Any]) -> float:
    answer = scheduling.answer(scheduling.read_plan(car), samples=4000).as_dict()
    return float(answer["shows"]["s"]["all_ready"])


def _parcelled(car: dict[str, Any], block: int) -> list[float]:
    with (
        mock.patch.object(draws, "BLOCK", block),
        mock.patch.object(readiness, "BLOCK", block),
    ):
        return [_chance(car)]


def test_common_numbers_make_a_comparison_sharp() -> None:
    """Another estimate for one job leaves the other jobs' numbers as they were."""
    one, other = drawn(plan(hands("two", 3))), drawn(plan(hands("two", 4)))
    assert np.array_equal(one["one"], other["one"])
    assert other["two"].mean() > one["two"].mean()


@pytest.mark.parametrize("rework", [0.0, 0.3])
def test_a_slower_hand_takes_its_pace_whether_the_hours_are_fixed_or_not(
    rework: float,
) -> None:
    """Twice the pace, twice every drawn length, done once or a second time."""
    sure = hands("two", 4, rework_chance=rework)
    open_ = sure | {"id": "three", "estimate": {"low": 2, "likely": 4, "high": 9}}
    usual, slow = (_at_pace(plan(sure, open_), pace) for pace in (1, 2))
    one, other = drawn(usual), drawn(slow)
    for job in ("two", "three"):
        assert np.allclose(other[job], 2 * one[job])


def _at_pace(plan: dict[str, Any], pace: float) -> dict[str, Any]:
    people = [
        one | {"pace": dict.fromkeys(one["trades"], pace)} for one in plan["people"]
    ]
    return plan | {"people": people}
