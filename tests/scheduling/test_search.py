"""The search: as good as what is published, never below its bound, and repeatable."""

from itertools import permutations
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import scheduling
from scheduling.plan import Plan
from scheduling.planner import PROVEN
from scheduling.search.bound import least_cost, least_ends
from scheduling.search.evolve import evolve, family_of
from scheduling.search.justify import breed
from scheduling.search.kin import BEST, SIZE, kin_of
from scheduling.search.plain import plain_of
from scheduling.search.randoms import draw
from scheduling.soonest import soonest
from scheduling.wishes import cost_of
from tests.scheduling.examples import examples
from tests.scheduling.problems import decoded, keys, planned, posed_problem
from tests.scheduling.strategies import valid_plans

some = examples(40)

# Fisher & Thompson 1963, the 6 x 6 job shop; machine and hours of each operation in
# turn; the shortest plan takes 55 (data and optimum from memory).
SIX_BY_SIX = """
2 1 0 3 1 6 3 7 5 3 4 6
1 8 2 5 4 10 5 10 0 10 3 4
2 5 3 4 5 8 0 9 1 1 4 7
1 5 0 5 2 5 3 3 4 8 5 9
2 9 1 3 4 5 5 4 0 3 3 1
1 3 3 3 5 9 0 10 4 4 2 1
"""


def shop(lines: list[list[int]]) -> Plan:
    """Return a job shop: each line is machine, hours, machine, hours ..."""
    machines = {m for line in lines for m in line[::2]}
    jobs = [
        {
            "id": f"j{n}-{k}",
            "estimate": {"likely": line[2 * k + 1], "fixed": True},
            "places": [f"m{line[2 * k]}"],
            "after": [f"j{n}-{k - 1}"] if k else [],
        }
        for n, line in enumerate(lines)
        for k in range(len(line) // 2)
    ]
    places = [{"id": f"m{m}"} for m in sorted(machines)]
    return scheduling.read_plan({"places": places, "jobs": jobs})


def hours(plan: Plan, **options: Any) -> float:
    found = planned(plan, **options)
    return found.cost[1] / 4


def test_the_six_by_six_job_shop_takes_fifty_five_hours() -> None:
    lines = [[int(one) for one in row.split()] for row in SIX_BY_SIX.split("\n") if row]
    assert hours(shop(lines), schedules=3000) == 55


@pytest.mark.parametrize("seed", [1, 2])
def test_two_machines_in_turn_take_what_johnsons_rule_says(seed: int) -> None:
    """Johnson 1954, Naval Research Logistics Quarterly 1:61-68 (from memory)."""
    random = np.random.default_rng(seed)
    pairs = [(int(a), int(b)) for a, b in random.integers(1, 10, (7, 2))]
    quick = sorted([one for one in pairs if one[0] <= one[1]])
    slow_ones = sorted([one for one in pairs if one[0] > one[1]], key=lambda x: -x[1])

    def length(order: Any) -> int:
        first = second = 0
        for one, other in order:
            first += one
            second = max(first, second) + other
        return second

    best = length(quick + slow_ones)
    assert best == min(length(order) for order in permutations(pairs))
    assert hours(shop([[0, a, 1, b] for a, b in pairs]), schedules=5000) == best


def test_a_plan_that_meets_its_bound_is_called_proven_and_ends_the_search() -> None:
    found = planned(shop([[0, 2], [0, 3], [0, 4]]), schedules=1000)
    assert (found.cost, found.status) == ((0, 36, 0), PROVEN)
    assert found.schedules < 100


@given(plan=valid_plans(), seed=st.integers(0, 1000))
@some
def test_no_plan_costs_less_than_the_bound(plan: Plan, seed: int) -> None:
    posed, wishes, problem, teams = posed_problem(plan)
    ends = least_ends(posed.network, soonest(posed.network)[1], wishes)
    bound = least_cost(wishes, ends)
    made = decoded(problem, teams, keys(posed.network, seed))
    short = any("no time" in fault.what for fault in planned(plan, schedules=1).faults)
    assert short or cost_of(wishes, made.finish) >= bound


@given(plan=valid_plans())
@some
def test_the_judge_finds_nothing_broken_in_a_searched_plan(plan: Plan) -> None:
    answer = scheduling.answer(plan, schedules=40, samples=5).as_dict()
    assert scheduling.broken_rules(plan, answer) == ()


@given(plan=valid_plans())
@settings(some, max_examples=15)
def test_the_same_number_and_seed_give_the_same_plan(plan: Plan) -> None:
    one, other = (planned(plan, schedules=50, seed=3) for _ in "12")
    assert one == other


@given(plan=valid_plans())
@settings(some, max_examples=15)
def test_more_plans_are_never_worse(plan: Plan) -> None:
    assert planned(plan, schedules=60).cost <= planned(plan, schedules=6).cost


def test_a_watch_that_says_no_ends_the_search_with_a_plan() -> None:
    lines = [[int(one) for one in row.split()] for row in SIX_BY_SIX.split("\n") if row]
    seen: list[float] = []

    def watch(share: float) -> bool:
        seen.append(share)
        return len(seen) < 2

    found = planned(shop(lines), schedules=5000, watch=watch)
    assert len(seen) >= 2
    assert 0 < seen[0] < seen[1] < 1
    assert found.cost[1] >= 55 * 4
    assert found.schedules < 1000


def test_by_time_two_threads_find_a_plan_no_worse_than_the_first() -> None:
    lines = [[int(one) for one in row.split()] for row in SIX_BY_SIX.split("\n") if row]
    first = planned(shop(lines), schedules=1)
    assert planned(shop(lines), schedules=None, seconds=0.2).cost <= first.cost


def test_no_two_plans_kept_are_the_same() -> None:
    lines = [[int(one) for one in row.split()] for row in SIX_BY_SIX.split("\n") if row]
    posed, _, problem, _ = posed_problem(shop(lines))
    plain = plain_of(posed.network, problem)
    assert plain is not None
    kin = kin_of(plain, 20, 1)
    breed(plain, kin, 400, 20, 0)
    for rows in kin.start:
        assert len({tuple(row) for row in rows}) == 20
    family = family_of(problem, keys(posed.network, 1)[None, :], 10, 1)
    evolve(problem, family, 400, np.zeros(3, dtype=np.int64))
    assert len({tuple(row) for row in family.start}) == 10


def test_families_dwindle_without_losing_their_shortest_plan() -> None:
    lines = [[int(one) for one in row.split()] for row in SIX_BY_SIX.split("\n") if row]
    posed, _, problem, _ = posed_problem(shop(lines))
    plain = plain_of(posed.network, problem)
    assert plain is not None
    kin = kin_of(plain, 30, 1)
    breed(plain, kin, 60, 30, 0)
    before = kin.span.min(axis=1).tolist()
    assert kin.span.max() > kin.span.min()
    breed(plain, kin, 60, 5, 0)  # a child takes two plans at most
    assert kin.tally[SIZE] == 5
    assert all(kin.span[:, :5].min(axis=1) <= before)
    assert kin.tally[BEST] == kin.span[:, :5].min()


def test_random_numbers_are_the_published_generators() -> None:
    """The two generators by their definition, in Python's own whole numbers."""
    state = np.array([12345, 67890], dtype=np.int64)
    one, other = 12345, 67890
    for _ in range(1000):
        one, other = one * 40014 % 2147483563, other * 40692 % 2147483399
        assert draw(state) == (one - other) % 2147483562
