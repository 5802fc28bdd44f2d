"""The compiled planner makes the very plan that plain serial generation makes."""

import json
import os
import subprocess
import sys
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

import scheduling
from builds.demo.plan import demo_plan
from scheduling.plan import Plan
from scheduling.search.plain import plain_of
from scheduling.shared_plan import serial_plan
from tests.scheduling.examples import examples
from tests.scheduling.problems import decoded, keys, posed_problem
from tests.scheduling.strategies import valid_plans

some = examples(60)


@given(plan=valid_plans(), seed=st.integers(0, 1000))
@some
def test_both_place_random_workshops_alike(plan: Plan, seed: int) -> None:
    posed, _, problem, teams = posed_problem(plan)
    key = keys(posed.network, seed)
    plain, fast = serial_plan(posed.network, key.tolist()), decoded(problem, teams, key)
    assert (fast.start, fast.finish) == (plain.start, plain.finish)
    assert fast.team == plain.team


def test_both_place_the_demo_workshop_alike() -> None:
    posed, _, problem, teams = posed_problem(scheduling.read_plan(demo_plan()))
    for seed in range(3):
        key = keys(posed.network, seed)
        plain = serial_plan(posed.network, key.tolist())
        fast = decoded(problem, teams, key)
        assert (fast.start, fast.finish) == (plain.start, plain.finish)
        assert fast.team == plain.team


def test_a_workshop_with_hours_or_hands_is_no_plain_problem() -> None:
    posed, _, problem, _ = posed_problem(scheduling.read_plan(demo_plan()))
    assert plain_of(posed.network, problem) is None


SCRIPT = """
import json, sys
import scheduling
from scheduling.compiled import PLAIN
found = []
for rows in json.load(sys.stdin):
    answer = scheduling.answer(scheduling.read_plan(rows), schedules=20, samples=5)
    told = answer.as_dict()
    found.append([told["plan"], {
        job: (one["planned_start"], one["planned_finish"], one["who"])
        for job, one in told["jobs"].items()
    }])
json.dump([PLAIN, found], sys.stdout)
"""


def test_without_the_compiler_the_plans_are_the_same() -> None:
    whole = demo_plan()
    builds = {one["id"] for one in whole["builds"][:1]}
    plans = [
        whole | {
            "jobs": [one for one in whole["jobs"] if one.get("build") in builds][:30],
            "consignments": [], "shows": [],
        },
        {"places": [{"id": "ramp", "capacity": 2}],
         "jobs": [{"id": f"j{n}", "estimate": {"likely": 1 + n % 3, "fixed": True},
                   "places": ["ramp"], "after": [f"j{n - 4}"] if n > 3 else []}
                  for n in range(12)]},
    ]  # fmt: skip
    kept = {one["id"] for one in plans[0]["jobs"]}
    for one in plans[0]["jobs"]:
        after = [link for link in one.get("after", []) if _job(link) in kept]
        one.update(after=after)
    found = []
    for flag in ("", "1"):
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT],
            input=json.dumps(plans),
            env=os.environ | {"WORKSHOP_NO_NUMBA": flag},
            capture_output=True,
            text=True,
            check=True,
        )
        found.append(json.loads(run.stdout))
    assert [one[0] for one in found] == [False, True]
    assert found[0][1] == found[1][1]


def _job(link: str | dict[str, Any]) -> str:
    return link if isinstance(link, str) else link["job"]
