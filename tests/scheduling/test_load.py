"""Whose hours go where. The sums are worked by hand in the comments."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta
from math import ceil

import numpy as np
import pytest
from hypothesis import given, settings

import scheduling
from scheduling.load import load_of
from scheduling.plan import Plan
from tests.scheduling.strategies import valid_plans

WEEKDAYS = ("mon", "tue", "wed", "thu", "fri")
MONDAY = date(2027, 1, 11)
SHOP = {"week": {key: ["08:00-12:00", "13:00-17:00"] for key in WEEKDAYS}}  # 40 h
ANA = {"id": "ana", "calendar": "shop", "trades": {"weld": 3}}


def plan_of(*jobs, people=(ANA,), places=(), **calendar) -> Plan:
    return scheduling.read_plan(
        {
            "now": "2027-01-11T08:00",
            "calendars": {"shop": SHOP | calendar},
            "people": list(people),
            "places": list(places),
            "jobs": list(jobs),
        }
    )


def weld(key, hours, **facts):
    estimate = {"likely": hours, "fixed": True}
    return {"id": key, "trade": "weld", "estimate": estimate, **facts}


def load(plan, until=date(2027, 4, 4)):
    answer = scheduling.answer(plan, schedules=1, samples=10).as_dict()
    return load_of(plan, answer["jobs"], until)


def by_week(stretches):
    found = defaultdict(float)
    for one in stretches:
        found[one.start.isocalendar().week] += one.hours
    return dict(found)


def test_two_jobs_at_once_ask_for_more_than_a_week_has():
    # 28 + 34 h are both clear on Monday of week 2, which has 40 h: 62 asked of 40.
    # One after the other they fill that week and 22 h of week 3.
    ana = load(plan_of(weld("sill", 28), weld("floor", 34))).people["ana"]
    assert by_week(ana.asked) == {2: 62}
    assert by_week(ana.given) == {2: 40, 3: 22}
    assert {one.job for one in ana.given} == {"sill", "floor"}


def test_work_is_given_inside_the_hours_with_the_break_left_out():
    ana = load(plan_of(weld("sill", 6))).people["ana"]
    spans = [(one.start.hour, one.finish.hour, one.hours) for one in ana.given]
    assert spans == [(8, 12, 4), (13, 15, 2)]


def test_nothing_is_given_on_days_away():
    away = ANA | {"away": ["2027-01-12/2027-01-15"]}
    ana = load(plan_of(weld("sill", 12), people=[away])).people["ana"]
    # Monday 8 h, then away until Friday; the other 4 h on the Monday after.
    assert by_week(ana.given) == {2: 8, 3: 4}
    own = [hours for start, _, hours in ana.own if start.date() < date(2027, 1, 18)]
    assert sum(own) == 8


def test_a_slower_hand_is_given_the_hours_it_takes_them():
    # 4 h at a pace of 1.5 are 6 h, in both readings.
    slow = ANA | {"pace": {"weld": 1.5}}
    ana = load(plan_of(weld("sill", 4), people=[slow])).people["ana"]
    assert sum(one.hours for one in ana.given) == 6
    assert sum(one.hours for one in ana.asked) == pytest.approx(6)


def test_two_people_together_are_both_asked():
    ben = {"id": "ben", "calendar": "shop", "trades": {"weld": 1}}
    found = load(plan_of(weld("sill", 5, people=2), people=[ANA, ben])).people
    assert {key: by_week(one.given) for key, one in found.items()} == {
        "ana": {2: 5},
        "ben": {2: 5},
    }


def test_a_place_counts_its_units_from_start_to_end():
    ramp = {"id": "ramp", "capacity": 2}
    job = weld("sill", 12, places=[{"place": "ramp", "uses": 2}])
    found = load(plan_of(job, places=[ramp]), until=date(2027, 1, 17)).places["ramp"]
    # Open 40 h twice; 12 h of both.
    assert sum(hours for *_, hours in found.own) == 80
    assert sum(one.hours for one in found.given) == 24


def test_what_is_done_or_left_out_asks_for_nothing():
    done = weld("a", 4, state="done", finished="2027-01-08T12:00")
    gone = weld("b", 4, state="left out")
    ana = load(plan_of(done, gone)).people["ana"]
    assert (ana.given, ana.asked) == ([], [])


def test_work_does_not_run_over_midnight_in_one_piece():
    always = {"id": "kim", "trades": {"weld": 3}}
    plan = scheduling.read_plan(
        {
            "now": "2027-01-11T20:00",
            "people": [always],
            "jobs": [weld("a", 6)],
        }
    )
    kim = load(plan).people["kim"]
    # 20:00 to 02:00: four hours before midnight and two after.
    assert [one.hours for one in kim.given] == [4, 2]


@pytest.mark.parametrize("weeks", [1, 7, 30, 60])
def test_own_hours_are_numpys_working_days(weeks):
    """Outside check: numpy.busday_count, with the closed days as its holidays."""
    closed = ["2027-03-26", "2027-03-29", "2027-05-03", "2027-05-31"]
    plan = plan_of(weld("sill", 1), closed=closed)
    last = MONDAY + timedelta(days=7 * weeks - 1)
    ana = load(plan, until=last).people["ana"]
    days = np.busday_count(MONDAY, last + timedelta(days=1), holidays=closed)
    assert sum(hours for *_, hours in ana.own) == 8 * days


def inside(one, own):
    return any(start <= one.start and one.finish <= end for start, end, _ in own)


@settings(deadline=None, max_examples=60)
@given(valid_plans())
def test_nobody_is_given_more_than_their_hours_and_both_readings_add_up(plan):
    answer = scheduling.answer(plan, schedules=1, samples=10).as_dict()
    ends = [facts["planned_finish"] or "" for facts in answer["jobs"].values()]
    last = date.fromisoformat(max([*ends, "2027-01-11"])[:10])
    found = load_of(plan, answer["jobs"], last)
    jobs = {job.id: job for job in plan.jobs}
    for person, hours in found.people.items():
        for one, after in zip(hours.given, hours.given[1:], strict=False):
            assert one.finish <= after.start, "in two places at once"
        assert all(inside(one, hours.own) for one in hours.given)
        asked, given_ = totals(hours.asked), totals(hours.given)
        assert asked == pytest.approx(given_)
        for key, total in given_.items():
            expected = planned_hours(plan, answer["jobs"][key], jobs[key])
            if any(link.kind == "by" for link in jobs[key].after):
                assert total >= expected - 1e-6, f"{person} holds on for the other"
            else:
                assert total == expected


def totals(stretches):
    found = defaultdict(float)
    for one in stretches:
        found[one.job] += one.hours
    return found


def planned_hours(plan, facts, job):
    """The job's own hours by the slowest of its team, in whole quarters."""
    people = {one.id: one for one in plan.people}
    pace = max(people[one].pace.get(job.trade or "", 1.0) for one in facts["who"])
    return ceil(facts["duration_hours"] * pace * 4 - 1e-5) / 4
