"""One plan over all cars: nobody and nothing in two places, and no time wasted."""

from datetime import datetime
from typing import Any

import pytest

import scheduling
from tests.scheduling.test_judge import MONDAY, WEEK, fixed, hands, workshop


def planned(plan: dict[str, Any]) -> dict[str, Any]:
    found = scheduling.read_plan(plan)
    answer = scheduling.answer(found, schedules=4, samples=10).as_dict()
    assert scheduling.broken_rules(found, answer) == ()
    return answer


def small(*jobs: dict[str, Any], **more: Any) -> dict[str, Any]:
    return workshop(jobs=list(jobs), consignments=[]) | more


def test_two_jobs_for_one_pair_of_hands_follow_each_other() -> None:
    """Eight hours a day: two jobs of four hours fill one Monday (counted by hand)."""
    jobs = [hands(name, 4, trade_level=3) for name in ("one", "two")]
    found = planned(small(*jobs))["jobs"]
    assert sorted(found[name]["planned_finish"] for name in ("one", "two")) == [
        "2027-01-11T12:00",
        "2027-01-11T17:00",
    ]


def test_two_jobs_for_two_pairs_of_hands_run_side_by_side() -> None:
    jobs = [hands("one", 4), hands("two", 2)]
    found = planned(small(*jobs))["jobs"]
    assert {found[name]["planned_start"] for name in found} == {MONDAY}
    assert found["one"]["who"] != found["two"]["who"]


def test_a_pair_of_jobs_in_a_booth_for_one_takes_turns() -> None:
    jobs = [hands(name, 2, places=["booth"]) for name in ("one", "two")]
    found = planned(small(*jobs))["jobs"]
    first, second = sorted(found.values(), key=lambda one: one["planned_start"])
    assert first["planned_finish"] <= second["planned_start"]


def test_a_slot_holds_one_consignment_or_job() -> None:
    """The plater's slots are 12, 14, 18 ... January, every second working day."""
    jobs = [
        {"id": name, "kind": "outside", "vendor": "plater", "estimate": fixed(3)}
        for name in ("one", "two", "three")
    ]
    found = planned(small(*jobs))["jobs"]
    starts = sorted(one["planned_start"][:10] for one in found.values())
    assert starts == ["2027-01-12", "2027-01-14", "2027-01-18"]


def test_a_level_one_hand_only_works_beside_somebody() -> None:
    found = planned(small(hands("lift", 4, people=2), hands("more", 4)))["jobs"]
    assert "cal" not in found["more"]["who"]
    assert set(found["lift"]["who"]) & {"ana", "ben"}


def test_nobody_for_a_job_is_a_problem_that_names_it() -> None:
    plan = scheduling.read_plan(small(hands("trim", 4, trade="trim")))
    answer = scheduling.answer(plan, samples=10).as_dict()
    assert [one["where"] for one in answer["problems"]] == ["jobs/trim"]


@pytest.mark.parametrize("rank", [(1, 2), (2, 1)])
def test_the_lead_s_order_of_cars_decides_who_goes_first(rank: tuple[int, int]) -> None:
    """Two cars, one pair of hands, both late for the show: the first car first."""
    builds = [{"id": name, "rank": at} for name, at in zip("ab", rank, strict=True)]
    entries = [{"build": name} for name in "ab"]
    show = {"id": "s", "name": "Show", "move_in": "2027-01-11T17:00"}
    jobs = [hands(f"job-{name}", 8, trade_level=3, build=name) for name in "ab"]
    plan = small(*jobs, builds=builds, shows=[show | {"entries": entries}])
    found = planned(plan)["jobs"]
    first = "a" if rank == (1, 2) else "b"
    assert found[f"job-{first}"]["planned_finish"] == "2027-01-11T17:00"


def test_no_plan_is_shorter_than_its_bound() -> None:
    answer = planned(workshop())
    assert answer["plan"]["makespan_hours"] >= answer["plan"]["bound_hours"]
    last = max(one["planned_finish"] or "" for one in answer["jobs"].values())
    assert datetime.fromisoformat(last) > datetime.fromisoformat(MONDAY)


def test_work_under_way_goes_on_before_all_else() -> None:
    begun = hands("begun", 4, trade_level=3, state="under way", started=MONDAY)
    plan = small(hands("new", 2, trade_level=3), begun | {"remaining": 3})
    found = planned(plan | {"calendars": {"shop": {"week": WEEK}}})["jobs"]
    assert found["begun"]["planned_start"] == MONDAY
    assert found["new"]["planned_start"] == "2027-01-11T11:00"


def test_a_fast_hand_does_not_end_a_job_before_the_job_it_may_not_end_before() -> None:
    """Ten hours at pace 0.5 are five, and may end with the twenty-hour job only."""
    quick = {"id": "ana", "trades": {"weld": 3}, "pace": {"weld": 0.5}}
    jobs = [
        {"id": "long", "kind": "stand", "estimate": fixed(20)},
        hands("quick", 10, after=[{"job": "long", "link": "by"}]),
    ]
    found = planned(small(*jobs, people=[quick]))["jobs"]
    assert found["quick"]["planned_finish"] >= found["long"]["planned_finish"]
