"""Five hundred random workshops solved to proof, and every claim held against it.

The constraint model and the planner share no search; the judge shares nothing with
either. A model that forbids too much would lose to some plan of the planner; one that
forbids too little would be caught by the judge.
"""

import pytest

import scheduling
from tests.scheduling.proving import cost, faults, in_some_order, posed, proved
from tests.scheduling.random_workshops import problem

PROBLEMS = 500
CHUNK = 20
ORDERS = 10


@pytest.mark.parametrize("first", range(0, PROBLEMS, CHUNK))
def test_nothing_beats_a_proven_plan_and_the_judge_has_nothing_against_it(first):
    for seed in range(first, first + CHUNK):
        found, wishes, proof = proved(problem(seed))
        assert proof.proven, seed
        assert faults(found, proof.plan) == [], seed
        assert proof.cost == cost(wishes, proof.plan), seed
        for order in range(ORDERS):
            other = in_some_order(found, order)
            assert proof.cost[:2] <= cost(wishes, other)[:2], (seed, order)


@pytest.mark.parametrize("first", range(0, PROBLEMS, CHUNK))
def test_what_the_planner_calls_proven_best_costs_what_the_proof_costs(first):
    for seed in range(first, first + CHUNK):
        answer = scheduling.answer(
            scheduling.read_plan(problem(seed)), schedules=20, samples=2
        )
        if answer.as_dict()["plan"]["status"] == "proven best":
            _, wishes = posed(problem(seed))
            _, _, proof = proved(problem(seed))
            assert cost(wishes, answer.found.shared)[:2] == proof.cost[:2], seed
