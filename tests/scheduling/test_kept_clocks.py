"""Clocks are kept only for as long as they would come out the same."""

from dataclasses import replace
from datetime import date, datetime

import numpy as np
import pytest

import scheduling
from scheduling.calendars import Clocks
from scheduling.kept_clocks import clocks_for
from scheduling.plan import Estimate, Plan, Span
from scheduling.timeline import PER_DAY

PLAN = scheduling.read_plan(
    {
        "now": "2027-01-11T08:00",
        "calendars": {
            "shop": {"week": {"mon": ["08:00-16:00"], "tue": ["08:00-16:00"]}}
        },
        "people": [{"id": "ana", "trades": {"weld": 2}}],
        "vendors": [{"id": "plater"}],
        "jobs": [{"id": "weld", "trade": "weld", "estimate": {"likely": 8}}],
    }
)
ANA = frozenset({"person:ana"})
PLATER = frozenset({"vendor:plater"})
AWAY = (Span(date(2027, 1, 11), date(2027, 1, 11)),)


def longer(plan: Plan) -> Plan:
    return replace(plan, jobs=(replace(plan.jobs[0], estimate=Estimate(40.0)),))


def away(plan: Plan) -> Plan:
    return replace(plan, people=(replace(plan.people[0], away=AWAY),))


def shut(plan: Plan) -> Plan:
    return replace(plan, vendors=(replace(plan.vendors[0], closed=AWAY),))


def later_hours(plan: Plan) -> Plan:
    shop = plan.calendars[0]
    week = {**shop.week, "mon": shop.week["tue"][:0]}
    return replace(plan, calendars=(replace(shop, week=week),))


def holidays(plan: Plan) -> Plan:
    return replace(plan, calendars=(replace(plan.calendars[0], holidays="GB-ENG"),))


def next_year(plan: Plan) -> Plan:
    return replace(plan, now=datetime(2028, 1, 10, 8))


def test_another_estimate_needs_no_other_clocks() -> None:
    assert clocks_for(longer(PLAN)) is clocks_for(PLAN)


@pytest.mark.parametrize("change", [away, shut, later_hours, holidays, next_year])
def test_what_changes_the_hours_changes_the_clocks(change) -> None:
    clocks_for(PLAN)
    kept, fresh = clocks_for(change(PLAN)), Clocks(change(PLAN))
    assert kept is not clocks_for(PLAN)
    for key in (ANA, PLATER):
        assert np.array_equal(kept.of(key).working, fresh.of(key).working)


def test_somebody_away_is_away_at_once() -> None:
    day = slice(0, PER_DAY)  # the timeline begins on Monday 11 January 2027
    assert clocks_for(PLAN).of(ANA).working[day].any()
    assert not clocks_for(away(PLAN)).of(ANA).working[day].any()
    assert clocks_for(PLAN).of(ANA).working[day].any()
