"""What must hold of every improved plan, whatever is in it."""

from hypothesis import given, note

import scheduling
from scheduling.plan import Plan
from scheduling.proof import prove
from scheduling.solve import answer_with, pose
from scheduling.wishes import cost_of, wishes_of
from tests.scheduling.proving import in_some_order
from tests.scheduling.strategies import valid_plans
from tests.scheduling.test_properties import some


@given(plan=valid_plans())
@some
def test_an_improved_plan_breaks_no_rule_and_is_never_worse(plan: Plan) -> None:
    problem = pose(plan)
    wishes = wishes_of(problem.network, problem.goals, problem.dues)
    first = in_some_order(problem, 0)
    proof = prove(problem.network, first, wishes, seconds=2, repeatable=True)
    answer = answer_with(problem, proof.plan, samples=2).as_dict()
    note(answer["jobs"])
    assert scheduling.broken_rules(plan, answer) == ()
    assert proof.cost <= cost_of(wishes, first.finish)
    assert proof.bound[0] <= proof.cost[0]
