"""Plans proven the best there is: by hand, and against published optima."""

from itertools import pairwise

import pytest

import scheduling
from scheduling import proof as proof_package
from scheduling.proof import NoSolver, prove
from scheduling.wishes import Following
from tests.scheduling.proving import (
    cost,
    faults,
    hours_taken,
    in_some_order,
    job_shop,
    posed,
    proved,
)

DAYS = ("mon", "tue", "wed", "thu", "fri")
SHOP = {"week": {day: ["08:00-16:00"] for day in DAYS}}
ANA = {"id": "ana", "trades": {"weld": 3}}
MONDAY = "2027-03-01T08:00"

# OR-Tools guide, "The job shop problem": three jobs, three machines, length 11.
GUIDE = [[(0, 3), (1, 2), (2, 2)], [(0, 2), (2, 1), (1, 4)], [(1, 4), (2, 3)]]
# Fisher & Thompson 1963 (in Muth & Thompson, Industrial Scheduling), the 6 x 6
# problem, from memory; its optimum, 55, is in every survey since.
FT06 = [
    [(2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)],
    [(1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)],
    [(2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)],
    [(1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)],
    [(2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)],
    [(1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)],
]


def weld(job, hours, **more):
    return {"id": job, "trade": "weld", "estimate": {"likely": hours}, **more}


def workshop(*jobs, **more):
    return {
        "now": MONDAY, "calendars": {"shop": SHOP}, "people": [ANA], "jobs": jobs,
        **more,
    }  # fmt: skip


@pytest.mark.parametrize(("jobs", "hours"), [(GUIDE, 11), (FT06, 55)])
def test_published_job_shops_are_solved_to_their_optimum(jobs, hours):
    problem, _, proof = proved(job_shop(jobs))
    assert proof.proven
    assert hours_taken(problem, proof.plan) == hours


def test_the_first_car_of_the_lead_goes_first_where_one_person_does_both():
    cars = [{"id": "second", "rank": 2}, {"id": "first", "rank": 1}]
    jobs = [weld("a", 8, build="second"), weld("b", 8, build="first")]
    problem, _, proof = proved(workshop(*jobs, builds=cars))
    index = problem.network.index
    assert proof.proven
    assert proof.plan.start[index["b"]] < proof.plan.start[index["a"]]


def test_a_date_of_a_show_comes_before_the_order_of_the_cars():
    cars = [{"id": "second", "rank": 2}, {"id": "first", "rank": 1}]
    show = {
        "id": "show", "move_in": "2027-03-01T16:00", "entries": [{"build": "second"}]
    }  # fmt: skip
    jobs = [weld("a", 8, build="second"), weld("b", 8, build="first")]
    _, _, proof = proved(workshop(*jobs, builds=cars, shows=[show]), order=2)
    assert proof.cost[0] == 0
    assert proof.proven


def test_a_later_slot_is_taken_when_it_is_worth_more_to_another_part():
    """One slot on Tuesday, one on Thursday: the part with work behind it goes first."""
    plater = {"id": "plater", "slots": {"every_working_days": 2, "from": "2027-03-02"}}
    sent = {"kind": "outside", "vendor": "plater", "estimate": {"likely": 1}}
    jobs = [{"id": "a", **sent}, {"id": "b", **sent}, weld("fit", 8, after=["b"])]
    problem, _, proof = proved(workshop(*jobs, vendors=[plater]))
    index, start = problem.network.index, proof.plan.start
    assert proof.proven
    assert start[index["b"]] < start[index["a"]]
    assert faults(problem, proof.plan) == []


def test_under_way_work_stays_where_it_is():
    begun = {"state": "under way", "started": MONDAY, "remaining": 4, "person": "ana"}
    cars = [{"id": "last", "rank": 2}, {"id": "first", "rank": 1}]
    jobs = [weld("a", 8, build="last", **begun), weld("b", 2, build="first")]
    problem, _, proof = proved(workshop(*jobs, builds=cars))
    index = problem.network.index
    assert proof.plan.start[index["a"]] == problem.network.now
    assert proof.plan.start[index["b"]] == proof.plan.finish[index["a"]]


def test_of_equally_good_plans_the_one_people_follow_is_kept():
    problem, wishes = posed(workshop(weld("a", 4), weld("b", 4)))
    index, now = problem.network.index, int(problem.network.now)
    known = Following({"a": now + 16, "b": now}, {"a": ("ana",), "b": ("ana",)})
    for order in range(4):
        first = in_some_order(problem, order)
        found = prove(
            problem.network, first, wishes,
            following=known, seconds=5, repeatable=True,
        )  # fmt: skip
        assert found.cost[2] == 0
        assert found.plan.start[index["b"]] == now


def test_no_time_leaves_the_plan_as_it_was():
    problem, wishes = posed(job_shop(FT06))
    first = in_some_order(problem, 1)
    proof = prove(problem.network, first, wishes, seconds=0)
    assert proof.plan is first
    assert not proof.improved
    assert proof.bound <= proof.cost


def test_a_word_from_outside_stops_it():
    problem, wishes = posed(job_shop(FT06))
    first = in_some_order(problem, 1)
    asked = []
    proof = prove(
        problem.network, first, wishes, seconds=600, stop=lambda: not asked.append(1)
    )
    assert asked
    assert proof.cost <= cost(wishes, first)


def test_the_same_effort_gives_the_same_plan():
    plans = [proved(job_shop(FT06), seconds=0.5)[2].plan for _ in range(2)]
    assert plans[0] == plans[1]


def test_a_plan_of_many_jobs_gets_better_by_windows_and_stays_possible():
    jobs = [[(m, h + k) for m, h in steps] for k in (0, 1) for steps in FT06]
    problem, wishes = posed(job_shop(jobs))
    first = in_some_order(problem, 1)
    proof = prove(problem.network, first, wishes, seconds=2, repeatable=True)
    assert proof.cost < cost(wishes, first)
    assert proof.improved
    assert faults(problem, proof.plan) == []


def test_without_the_solver_it_says_what_is_missing(monkeypatch):
    monkeypatch.setattr(proof_package, "has_solver", lambda: False)
    problem, wishes = posed(job_shop(GUIDE))
    with pytest.raises(NoSolver, match="OR-Tools is not installed"):
        prove(problem.network, in_some_order(problem, 0), wishes, seconds=1)


def test_a_longer_look_answers_like_any_other_and_says_proven_best():
    plan = scheduling.read_plan(job_shop(GUIDE))
    shares = []

    def watch(share):
        shares.append(share)
        return True

    answer = scheduling.improve(plan, seconds=5, samples=2, watch=watch).as_dict()
    assert answer["plan"]["status"] == "proven best"
    assert answer["plan"]["makespan_hours"] == 11
    assert scheduling.broken_rules(plan, answer) == ()
    assert all(a <= b for a, b in pairwise(shares))


def test_a_longer_look_is_never_worse_than_the_plan_followed():
    plan = scheduling.read_plan(job_shop(FT06))
    best = scheduling.improve(plan, seconds=20, samples=2).as_dict()
    again = scheduling.improve(plan, seconds=0, samples=2, following=best).as_dict()
    assert again["plan"]["makespan_hours"] == best["plan"]["makespan_hours"] == 55
