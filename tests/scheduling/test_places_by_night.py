"""Places taken by what goes on day and night, and by parts that catch a slot."""

from itertools import accumulate, permutations
from typing import Any

import pytest

import scheduling
from scheduling.errors import PlanError
from scheduling.search.bound import least_cost, least_ends
from scheduling.soonest import soonest
from scheduling.wishes import cost_of
from tests.scheduling.proving import faults, in_some_order, posed, proved
from tests.scheduling.random_workshops import problem

DAYS = ("mon", "tue", "wed", "thu", "fri")
WORKSHOP: dict[str, Any] = {
    "now": "2027-03-01T08:00",  # a Monday
    "calendars": {"shop": {"week": {day: ["08:00-16:00"] for day in DAYS}}},
    "people": [{"id": "ana", "trades": {"weld": 3}}],
}


def drying(*hours: float) -> dict[str, Any]:
    """Return one booth with the workshop's hours, and a car for each drying time."""
    booth = {"id": "booth", "capacity": 1, "calendar": "shop"}
    jobs = [
        {"id": f"dry{n}", "build": f"car{n}", "kind": "stand", "places": ["booth"],
         "estimate": {"likely": one, "fixed": True}}
        for n, one in enumerate(hours)
    ]  # fmt: skip
    cars = [{"id": f"car{n}", "rank": n + 1} for n in range(len(hours))]
    return WORKSHOP | {"places": [booth], "builds": cars, "jobs": jobs}


def test_what_dries_by_night_is_not_held_to_the_hours_of_its_place() -> None:
    hours, weights = (60, 40, 6, 3), (60, 30, 20, 15)

    def one_after_the_other(order: tuple[int, ...]) -> int:
        ends = dict(zip(order, accumulate(hours[n] for n in order), strict=True))
        return sum(4 * ends[n] * weights[n] for n in order)

    least = min(one_after_the_other(order) for order in permutations(range(4)))
    _, _, proof = proved(drying(*hours))
    assert proof.proven
    assert proof.cost[1] == least == 30540
    few = scheduling.answer(scheduling.read_plan(drying(*hours)), samples=2)
    assert few.found.shared.bound[1] <= least


def test_no_plan_costs_less_than_the_bound() -> None:
    for seed in range(150):
        what, wishes = posed(problem(seed))
        ends = least_ends(what.network, soonest(what.network)[1], wishes)
        for order in range(4):
            cost = cost_of(wishes, in_some_order(what, order).finish)
            assert least_cost(wishes, ends)[:2] <= cost[:2], (seed, order)


def test_what_catches_a_slot_waits_for_its_place() -> None:
    facts = WORKSHOP | {
        "places": [{"id": "cabin", "capacity": 1}],
        "vendors": [
            {"id": "sprayer", "slots": {"every_working_days": 1, "from": "2027-03-01"}}
        ],
        "builds": [{"id": "car"}],
        "jobs": [
            {"id": "weld", "build": "car", "trade": "weld", "places": ["cabin"],
             "estimate": {"likely": 6, "fixed": True}},
            {"id": "spray", "build": "car", "kind": "outside", "vendor": "sprayer",
             "places": ["cabin"], "estimate": {"likely": 1, "fixed": True}},
        ],
    }  # fmt: skip
    what, _ = posed(facts)
    plans = [in_some_order(what, seed) for seed in range(4)]
    assert {plan.start[0] < plan.start[1] for plan in plans} == {True, False}
    assert [faults(what, plan) for plan in plans] == [[]] * 4


@pytest.mark.parametrize(
    ("rule", "jobs"),
    [
        ({"every_working_days": 1, "from": "2060-03-01"}, 1),
        ({"every_working_days": 400, "from": "2027-03-01"}, 9),
    ],
)
def test_a_slot_that_is_not_there_is_said(rule: dict[str, Any], jobs: int) -> None:
    facts = WORKSHOP | {
        "vendors": [{"id": "sprayer", "slots": rule}],
        "builds": [{"id": "car"}],
        "jobs": [
            {"id": f"part{n}", "build": "car", "kind": "outside", "vendor": "sprayer",
             "estimate": {"likely": 1, "fixed": True}}
            for n in range(jobs)
        ],
    }  # fmt: skip
    said = scheduling.answer(scheduling.read_plan(facts), samples=2).found.shared.faults
    assert said
    assert {one.what.split("”")[1] for one in said} == {
        " finds no slot at sprayer that is still free"
    }


def test_a_first_slot_years_ahead_is_waited_for() -> None:
    facts = WORKSHOP | {
        "vendors": [
            {"id": "sprayer", "slots": {"every_working_days": 1, "from": "2033-03-01"}}
        ],
        "builds": [{"id": "car"}],
        "jobs": [
            {"id": "spray", "build": "car", "kind": "outside", "vendor": "sprayer",
             "estimate": {"likely": 1, "fixed": True}}
        ],
    }  # fmt: skip
    told = scheduling.answer(scheduling.read_plan(facts), samples=2).as_dict()
    assert told["jobs"]["spray"]["planned_start"].startswith("2033-03-01")


def test_a_consignment_takes_its_place_once_for_all_its_jobs() -> None:
    def sent(capacity: int, **more: Any) -> dict[str, Any]:
        return WORKSHOP | {
            "places": [{"id": "cabin", "capacity": capacity}],
            "vendors": [{"id": "plater"}],
            "builds": [{"id": "car"}],
            "consignments": [
                {"id": "crate", "vendor": "plater", "jobs": ["rim", "hub"]}
            ],
            "jobs": [
                {"id": one, "build": "car", "kind": "outside", "vendor": "plater",
                 "places": ["cabin"], "estimate": {"likely": 1, "fixed": True}}
                for one in ("rim", "hub")
            ] + [
                {"id": "weld", "build": "car", "trade": "weld", "places": ["cabin"],
                 "estimate": {"likely": 6, "fixed": True}},
            ],
        }  # fmt: skip

    what, _ = posed(sent(2))
    for seed in range(4):
        assert faults(what, in_some_order(what, seed)) == []
    with pytest.raises(PlanError, match='takes 2 of "cabin", which holds 1'):
        scheduling.read_plan(sent(1))
