"""A car that is left out of the plan, for now."""

import json

import scheduling
from builds.demo.plan import demo_plan
from scheduling.plan import Plan

AWAY = "q121"


def demo_without(car: str) -> Plan:
    rows = demo_plan()
    for build in rows["builds"]:
        build["left_out"] = build["id"] == car
    return scheduling.read_plan(rows)


def test_the_answer_can_be_written_down() -> None:
    """JSON knows no infinity, and nothing waits for the jobs of a car left out."""
    answer = scheduling.answer(demo_without(AWAY), schedules=1, samples=5).as_dict()
    json.dumps(answer, allow_nan=False)
    assert answer["builds"][AWAY]["left_out"]
