"""A plan from anywhere is refused for what a file of it would be refused for."""

from dataclasses import replace
from datetime import date

import pytest

import scheduling
from scheduling.plan import Estimate, Job, Link, Person, Plan, Promise, Vendor

PLAN = scheduling.read_plan(
    {
        "now": "2027-01-11T08:00",
        "people": [{"id": "ana", "trades": {"weld": 2}}],
        "vendors": [{"id": "plater"}],
        "jobs": [
            {"id": "fit", "estimate": {"likely": 4}},
            {"id": "weld", "estimate": {"likely": 8}, "after": ["fit"]},
        ],
    }
)

WRONG_JOBS = {
    "a title beyond 4,000 letters": {"title": "x" * 4001},
    "half a character": {"title": "\ud800"},
    "nobody does it": {"people": 0},
    "a fourth level": {"trade": "weld", "trade_level": 4},
    "a chance above one": {"rework_chance": 1.5},
    "no number": {"estimate": Estimate(float("nan"))},
    "a wait without end": {"after": (Link("fit", wait_days=float("inf")),)},
    "a negative wait": {"after": (Link("fit", wait_hours=-1.0),)},
    "an unknown kind": {"kind": "polish"},
    "less than no pieces": {"pieces": -1},
    "an unknown job before it": {"after": (Link("nowhere"),)},
    "a ring": {"after": (Link("weld"),)},
    "a long promise": {"promises": (Promise(date(2027, 2, 1), said="x" * 5000),)},
}
WRONG_PLANS = {
    "a pace of nought": {"people": (Person("ana", pace={"weld": 0.0}),)},
    "a fourth level": {"people": (Person("ana", trades={"weld": 4}),)},
    "a chance above one": {"vendors": (Vendor("plater", reject_chance=2.0),)},
    "no such zone": {"timezone": "Mars/Crater"},
    "no samples": {"samples": 0},
}


def as_a_file(plan: Plan) -> tuple[scheduling.Fault, ...]:
    try:
        scheduling.read_plan(scheduling.write_plan(plan))
    except scheduling.PlanError as error:
        return error.faults
    return ()


def with_weld(**fields: object) -> Plan:
    weld: Job = replace(PLAN.jobs[1], **fields)  # type: ignore[arg-type]
    return replace(PLAN, jobs=(PLAN.jobs[0], weld))


def test_a_sound_plan_has_none() -> None:
    assert scheduling.plan_faults(PLAN) == ()
    assert scheduling.plan_faults(Plan(PLAN.now)) == ()


@pytest.mark.parametrize("fields", WRONG_JOBS.values(), ids=WRONG_JOBS)
def test_a_job_is_refused_in_the_words_of_its_file(fields: dict[str, object]) -> None:
    plan = with_weld(**fields)
    expected = as_a_file(plan)
    assert expected
    assert scheduling.plan_faults(plan) == expected
    # nothing is remembered that would let it pass the second time
    assert scheduling.plan_faults(plan) == expected
    assert scheduling.plan_faults(PLAN) == ()


@pytest.mark.parametrize("fields", WRONG_PLANS.values(), ids=WRONG_PLANS)
def test_the_rest_is_refused_in_the_words_of_its_file(
    fields: dict[str, object],
) -> None:
    plan = replace(PLAN, **fields)  # type: ignore[arg-type]
    expected = as_a_file(plan)
    assert expected
    assert scheduling.plan_faults(plan) == expected


def test_yes_for_a_number_is_no_number() -> None:
    # Python counts True as 1 and remembers answers for both as one.
    assert scheduling.plan_faults(with_weld(people=1)) == ()
    wrong = with_weld(people=True)
    assert scheduling.plan_faults(wrong) == as_a_file(wrong)
