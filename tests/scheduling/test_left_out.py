"""A car that is left out of the plan, for now."""

import json
from dataclasses import replace

import scheduling
from builds.demo.plan import demo_plan
from scheduling.answer_json import answer_json
from scheduling.critical_path import FOREVER, Late
from scheduling.plan import Plan
from tests.scheduling.test_judge import MONDAY, hands, workshop

AWAY = "q121"


def demo_without(car: str) -> Plan:
    rows = demo_plan()
    for build in rows["builds"]:
        build["left_out"] = build["id"] == car
    return scheduling.read_plan(rows)


def of_car(plan: Plan, car: str) -> list[str]:
    return [one.id for one in plan.jobs if one.build == car and one.state != "done"]


def test_its_jobs_take_no_time_and_wait_for_nobody() -> None:
    plan = demo_without(AWAY)
    answer = scheduling.answer(plan, schedules=1, samples=5).as_dict()
    resting = of_car(plan, AWAY)
    for job in resting:
        facts = answer["jobs"][job]
        assert facts["planned_start"] is facts["total_float_hours"] is None, job
        assert facts["condition"] == "left out"
    assert not set(resting) & {job for jobs in answer["today"].values() for job in jobs}
    assert not set(resting) & {row["job"] for row in answer["blocking"]}
    assert not set(resting) & {row["job"] for row in answer["ring"]}
    assert scheduling.broken_rules(plan, answer) == ()


def test_whoever_had_its_work_is_free_for_the_others() -> None:
    rows = workshop(
        builds=[{"id": "a", "rank": 1}, {"id": "b", "rank": 2}],
        jobs=[
            hands("first", 8, build="a", trade_level=3),
            hands("next", 8, build="b", trade_level=3),
        ],
        consignments=[],
    )
    answer = scheduling.answer(scheduling.read_plan(rows), samples=5).as_dict()
    assert answer["jobs"]["next"]["planned_start"] == "2027-01-12T08:00"
    rows["builds"][0]["left_out"] = True
    answer = scheduling.answer(scheduling.read_plan(rows), samples=5).as_dict()
    assert answer["jobs"]["next"]["planned_start"] == MONDAY


def test_what_is_under_way_on_it_waits_and_what_is_done_stays_done() -> None:
    began = {"state": "under way", "started": "2027-01-08T08:00"}
    done = {"state": "done", "finished": "2027-01-08T08:00"}
    rows = workshop(
        builds=[{"id": "a", "left_out": True}],
        jobs=[
            hands("done", 4, build="a", **done),
            hands("begun", 4, build="a", after=["done"], **began),
            hands("after", 4, after=["begun"]),
        ],
        consignments=[],
    )
    plan = scheduling.read_plan(rows)
    answer = scheduling.answer(plan, samples=5).as_dict()
    jobs = answer["jobs"]
    assert [jobs[one]["condition"] for one in ("done", "begun", "after")] == [
        *("done", "left out", "clear")
    ]
    assert jobs["after"]["planned_start"] == MONDAY
    assert scheduling.broken_rules(plan, answer) == ()


def test_the_answer_can_be_written_down() -> None:
    answer = scheduling.answer(demo_without(AWAY), schedules=1, samples=5).as_dict()
    json.dumps(answer, allow_nan=False)
    assert answer["builds"][AWAY]["left_out"]


def test_a_job_that_no_end_waits_for_has_no_float() -> None:
    """JSON knows no infinity."""
    rows = workshop(jobs=[hands("one", 4)], consignments=[])
    found = scheduling.answer(scheduling.read_plan(rows), samples=5).found
    unbounded = Late((FOREVER,), (FOREVER,))
    answer = answer_json(replace(found, late=unbounded, show_late=unbounded))
    json.dumps(answer, allow_nan=False)
    one = answer["jobs"]["one"]
    assert (one["total_float_hours"], one["free_float_hours"]) == (None, None)
    assert one["late_finish"] is None
    assert not one["critical"]
