"""The compiled planner makes the very plan that plain serial generation makes."""

import json
import os
import subprocess
import sys
from typing import Any

import numpy as np
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

import scheduling
from builds.demo.plan import demo_plan
from scheduling.plan import Plan
from scheduling.search.booking import room_for
from scheduling.search.decoder import decode
from scheduling.search.plain import plain_of
from scheduling.search.profile import parallel, serial
from scheduling.shared_plan import serial_plan
from tests.scheduling.problems import decoded, keys, posed_problem
from tests.scheduling.strategies import valid_plans

slow = [HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much]
some = settings(
    max_examples=60,
    deadline=None,
    derandomize=True,
    suppress_health_check=slow,
    phases=(Phase.explicit, Phase.generate),
)


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


@st.composite
def plain_rows(draw: st.DrawFn) -> dict[str, Any]:
    """Jobs with lengths, links, waits and units of up to five places; no hours."""
    count = draw(st.integers(1, 12))
    rooms = draw(st.lists(st.integers(1, 4), min_size=0, max_size=5))
    jobs = []
    for n in range(count):
        before = draw(st.lists(st.integers(0, n - 1), unique=True)) if n else []
        uses = [
            {"place": f"p{k}", "uses": draw(st.integers(1, room))}
            for k, room in enumerate(rooms)
            if draw(st.booleans())
        ]
        jobs.append(
            {
                "id": f"j{n}",
                "estimate": {"likely": draw(st.integers(0, 5)) / 2, "fixed": True},
                "places": uses,
                "after": [
                    {"job": f"j{m}", "wait_hours": draw(st.integers(0, 2))}
                    for m in before
                ],
            }
        )
    places = [{"id": f"p{k}", "capacity": room} for k, room in enumerate(rooms)]
    return {"places": places, "jobs": jobs}


@given(rows=plain_rows(), seed=st.integers(0, 1000))
@some
def test_step_by_step_and_by_interval_agree_on_plain_problems(
    rows: dict[str, Any], seed: int
) -> None:
    posed, _, problem, _ = posed_problem(scheduling.read_plan(rows))
    plain = plain_of(posed.network, problem)
    assert plain is not None
    placed, booked = room_for(problem)
    decode(problem, keys(posed.network, seed), placed, booked)
    start, finish = (np.zeros(plain.nodes, dtype=np.int64) for _ in "12")
    free = np.zeros((plain.need.shape[1], plain.steps), dtype=np.int64)
    span = serial(plain, False, placed.turn, free, start, finish)
    assert (start * plain.unit + problem.now).tolist() == placed.start.tolist()
    assert (finish * plain.unit + problem.now).tolist() == placed.finish.tolist()
    assert span == finish.max()


@given(rows=plain_rows(), back=st.booleans(), seed=st.integers(0, 1000))
@some
def test_in_parallel_nothing_that_could_have_begun_waits(
    rows: dict[str, Any], back: bool, seed: int
) -> None:
    """What makes a plan non-delay (Kolisch 1996, EJOR 90:320-333, from memory)."""
    posed, _, problem, _ = posed_problem(scheduling.read_plan(rows))
    plain = plain_of(posed.network, problem)
    assert plain is not None
    key = np.random.default_rng(seed).permutation(plain.nodes)
    left, start, finish = (np.zeros(plain.nodes, dtype=np.int64) for _ in "123")
    free = np.zeros((plain.need.shape[1], plain.steps), dtype=np.int64)
    span = parallel(plain, back, key, left, free, start, finish)
    links = [
        (int(plain.before[a]), n, int(plain.before_wait[a]))
        for n in range(plain.nodes)
        for a in range(plain.before_from[n], plain.before_from[n + 1])
    ]
    links = [(two, one, wait) for one, two, wait in links] if back else links
    assert all(finish[one] + wait <= start[two] for one, two, wait in links)
    uses = {
        f"j{n}": {one["place"]: one["uses"] for one in row["places"]}
        for n, row in enumerate(rows["jobs"])
    }
    room = {one["id"]: one["capacity"] for one in rows["places"]}
    need = {n: uses[job] for job, n in posed.network.index.items()}

    def taken(step: int) -> dict[str, int]:
        going = [n for n in need if start[n] <= step < finish[n]]
        return {place: sum(need[n].get(place, 0) for n in going) for place in room}

    for step in range(span):
        now = taken(step)
        assert all(now[place] <= room[place] for place in room)
        for n in range(plain.nodes):
            ready = max((finish[a] + w for a, two, w in links if two == n), default=0)
            if ready <= step < start[n]:
                assert any(now[k] + units > room[k] for k, units in need[n].items())


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
