"""A plan on one line, by which plans are told apart, says all that its file says."""

import json

from hypothesis import given

from scheduling.plan import Plan
from scheduling.plan_file import plan_text, read_plan, write_plan
from tests.scheduling.examples import examples
from tests.scheduling.strategies import valid_plans


@given(plan=valid_plans())
@examples(60)
def test_it_says_what_the_file_says(plan: Plan) -> None:
    line = plan_text(plan)
    assert "\n" not in line
    assert json.loads(line) == {"jobs": [], **write_plan(plan)}
    assert read_plan(line) == plan


def test_plans_that_differ_in_one_job_differ() -> None:
    job = {"id": "weld", "estimate": {"likely": 3}}
    changes = ({}, {"note": "thin"}, {"estimate": {"likely": 4}}, {"id": "fit"})
    rows = [{"now": "2027-03-01T08:00", "jobs": [job | more]} for more in changes]
    assert len({plan_text(read_plan(one)) for one in rows}) == 4
