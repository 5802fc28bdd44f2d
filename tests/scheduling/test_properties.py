"""What must hold for every plan, whatever is in it.

Plans are generated whole; the judge is a second program with calendars of its own.
"""

from dataclasses import replace
from datetime import datetime
from typing import Any

from hypothesis import assume, given, note, settings
from hypothesis import strategies as st

import scheduling
from scheduling.plan import Plan
from tests.scheduling.examples import examples
from tests.scheduling.strategies import valid_plans

some = examples(30)
few = settings(some, max_examples=15)

CRITICAL_PATH = (
    *("early_start", "early_finish", "late_start", "late_finish"),
    *("total_float_hours", "free_float_hours", "critical"),
)


def answered(plan: Plan, **options: Any) -> dict[str, Any]:
    chosen = {"schedules": 2, "samples": 20} | options
    return scheduling.answer(plan, **chosen).as_dict()


@given(plan=valid_plans())
@settings(some, max_examples=100)
def test_the_judge_finds_nothing_broken_in_an_answered_plan(plan: Plan) -> None:
    answer = answered(plan)
    note(answer["jobs"])
    assert scheduling.broken_rules(plan, answer) == ()


@given(plan=valid_plans(), data=st.data())
@some
def test_finishing_a_job_today_makes_nothing_later(
    plan: Plan, data: st.DataObject
) -> None:
    still = [job for job in plan.jobs if job.state in ("open", "under way")]
    assume(still)
    chosen = data.draw(st.sampled_from(still))
    before = answered(plan)["jobs"]
    started = chosen.started or plan.now
    done = replace(chosen, state="done", started=started, finished=plan.now)
    jobs = tuple(done if job is chosen else job for job in plan.jobs)
    after = answered(replace(plan, jobs=jobs))["jobs"]
    for job in plan.jobs:
        then, now = after[job.id]["early_finish"], before[job.id]["early_finish"]
        if then and job is not chosen:
            assert datetime.fromisoformat(then) <= datetime.fromisoformat(now), job.id


@given(plan=valid_plans())
@some
def test_critical_is_zero_float_and_float_is_never_below_free_float(plan: Plan) -> None:
    answer = answered(replace(plan, shows=()))
    for job in answer["jobs"].values():
        if job["early_start"]:
            assert job["critical"] == (abs(job["total_float_hours"]) < 1e-3)
            assert job["free_float_hours"] >= -1e-6
            assert job["total_float_hours"] >= -1e-6


@given(plan=valid_plans())
@few
def test_the_same_seed_gives_the_same_answer_whole(plan: Plan) -> None:
    assert answered(plan, seed=5) == answered(plan, seed=5)


@given(plan=valid_plans(), data=st.data())
@some
def test_the_order_of_jobs_in_the_file_changes_no_critical_path(
    plan: Plan, data: st.DataObject
) -> None:
    shuffled = data.draw(st.permutations(plan.jobs))
    one, other = answered(plan), answered(replace(plan, jobs=tuple(shuffled)))
    assert one["duration_hours"] == other["duration_hours"]
    for job in plan.jobs:
        for key in CRITICAL_PATH:
            assert one["jobs"][job.id][key] == other["jobs"][job.id][key], (job, key)
